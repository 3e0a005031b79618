// SPDX-License-Identifier: GPL-3.0-or-later
#include "cases/figures/warm_up_chart.hpp"

#include "cases/input/units.hpp"
#include "cases/output/unit_formatter.hpp"
#include "solver/analysis/closed_result.hpp"
#include "solver/contact/gasket_model.hpp"
#include "solver/contact/latch_model.hpp"
#include "solver/heat/thermal_state.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

namespace hangtrue::case_figures
{

namespace
{

using input::unit::minute;

// Tick steps of a time axis in clock units, min.
double minute_step(double range)
{
  for (const double step : {5.0, 10.0, 15.0, 30.0, 60.0, 120.0, 240.0})
    if (range / step <= 9.0)
      return step;
  return 480.0;
}

plots::ChartPanel heat_pane(const input::DoorCase& c, const check::CheckRun& run,
                            const figures::UnitFormatter& words)
{
  plots::Curve gas{"gas", {}, page::series_colour(3), page::Dash::dashed};
  plots::Curve inner{"inner skin", {}, page::series_colour(1)};
  plots::Curve outer{"outer skin", {}, page::series_colour(0)};
  for (const auto& p : run.curve) {
    const double t = p.time / minute;
    gas.points.push_back({t, words.temperature_number(p.gas)});
    inner.points.push_back({t, words.temperature_number(p.inner_skin)});
    outer.points.push_back({t, words.temperature_number(p.outer_skin)});
  }
  const heat::TemperatureSummary& worst = run.open_thermal.front().temperatures;
  plots::ChartPanel panel{
      "temperature, " + words.temperature_unit, {gas, inner, outer}, {}, {}, false};
  panel.limits.push_back({words.temperature_number(c.limits.touch.value), "limit outside"});
  panel.marks.push_back({{worst.time / minute, words.temperature_number(worst.outside_hottest)},
                         "hottest outside " + words.temperature(worst.outside_hottest)});
  return panel;
}

plots::ChartPanel bow_pane(const check::CheckRun& run, const figures::UnitFormatter& words)
{
  plots::Curve bow{"by hand", {}, page::series_colour(0)};
  for (const auto& p : run.curve)
    bow.points.push_back({p.time / minute, words.length_number(std::abs(p.estimated_bow))});
  const analysis::OpenDoorResult& worst = run.open_thermal.front();
  const double computed = std::abs(worst.bow.outer_corners);
  plots::ChartPanel panel{"bow, " + words.length_unit, {bow}, {}, {}, true};
  panel.marks.push_back({{worst.temperatures.time / minute, words.length_number(computed)},
                         "computed " + words.length(computed)});
  return panel;
}

double least_squeeze(const analysis::ClosedDoorResult& closed)
{
  return std::min_element(closed.gasket.begin(), closed.gasket.end(),
                          [](const contact::GasketPoint& a, const contact::GasketPoint& b) {
                            return a.squeeze < b.squeeze;
                          })
      ->squeeze;
}

// Closed states of the warm-up that were solved on their own: they have a time on the axis.
std::vector<const analysis::ClosedDoorResult*> solved_on_the_way(const check::CheckRun& run)
{
  std::vector<const analysis::ClosedDoorResult*> states;
  for (const auto& d : run.closed)
    if (d.warm && d.state.thermal.which != heat::ThermalCase::steady)
      states.push_back(&d);
  return states;
}

plots::ChartPanel gasket_pane(const input::DoorCase& c, const check::CheckRun& run,
                              const figures::UnitFormatter& words)
{
  plots::Curve minimum{"gasket", {}, page::series_colour(1), page::Dash::solid, true};
  minimum.points.push_back({0.0, words.length_number(least_squeeze(run.closed.front()))});
  for (const auto& i : run.closed_history)
    minimum.points.push_back({i.time / minute, words.length_number(i.min_squeeze)});
  plots::ChartPanel panel{"least squeeze, " + words.length_unit, {minimum}, {}, {}, true};
  panel.limits.push_back(
      {words.length_number(contact::sealing_squeeze(c.door.gasket)), "seals from here up"});
  for (const auto* d : solved_on_the_way(run)) {
    const double squeeze = least_squeeze(*d);
    panel.marks.push_back({{d->time / minute, words.length_number(squeeze)},
                           d == solved_on_the_way(run).front() ? words.length(squeeze) : ""});
  }
  return panel;
}

// The force on a latch at which the force at its lever is at the limit, N.
double hand_limit_on_latch(const input::DoorCase& c)
{
  double minimum = 1e300;
  for (const auto& latch : c.door.latches)
    minimum = std::min(minimum, c.limits.hand.value / contact::lever_hand_force(latch, 1.0));
  return minimum;
}

plots::ChartPanel latch_pane(const input::DoorCase& c, const check::CheckRun& run,
                             const figures::UnitFormatter& words)
{
  plots::ChartPanel panel{"latch, " + words.force_unit, {}, {}, {}, true};
  for (std::size_t l = 0; l < c.door.latches.size(); ++l) {
    const int index = static_cast<int>(l);
    plots::Curve curve{fmt::format("latch {}", l + 1),
                       {},
                       page::series_colour(index),
                       index >= 4 ? page::Dash::dashed : page::Dash::solid,
                       true};
    curve.points.push_back({0.0, words.force_number(run.closed.front().latches[l].force)});
    for (const auto& i : run.closed_history)
      curve.points.push_back({i.time / minute, words.force_number(i.latch[l])});
    panel.curves.push_back(curve);
    for (const auto* d : solved_on_the_way(run))
      panel.marks.push_back({{d->time / minute, words.force_number(d->latches[l].force)}, ""});
  }
  panel.limits.push_back(
      {words.force_number(hand_limit_on_latch(c)),
       "the lever takes " + words.force(c.limits.hand.value) + ", the limit of the hand"});
  return panel;
}

// "most bowed", and where the gasket presses least when that is well apart.
std::vector<plots::ReferenceLine> instants_of(const check::CheckRun& run, double range)
{
  const double bowed = run.open_thermal.front().temperatures.time / minute;
  std::vector<plots::ReferenceLine> lines{{bowed, "most bowed"}};
  const auto loosest =
      std::min_element(run.closed_history.begin(), run.closed_history.end(),
                       [](const analysis::ClosedDoorSample& a,
                          const analysis::ClosedDoorSample& b) { return a.min_load < b.min_load; });
  if (loosest == run.closed_history.end())
    return lines;
  const double loose = loosest->time / minute;
  constexpr double room = 0.2; // of the axis, for the text of both
  if (std::abs(loose - bowed) < 0.01 * range)
    lines.front().words = "most bowed, gasket loosest";
  else if (std::abs(loose - bowed) > room * range)
    lines.push_back({loose, "gasket loosest"});
  return lines;
}

std::string caption_of(const check::CheckRun& run, const figures::UnitFormatter& words)
{
  const analysis::OpenDoorResult& worst = run.open_thermal.front();
  std::string text = fmt::format(
      "The warm-up by the schedule of the door file. The bow by hand is the two-skin formula from "
      "the mean temperatures; the ring is the computed bow of the most bowed instant, {:.0f} min: "
      "{}.",
      worst.temperatures.time / minute, words.length(std::abs(worst.bow.outer_corners)));
  if (run.closed_history.empty())
    return text;
  return text +
         " Below: the least squeeze of the gasket anywhere on its line (under zero it stands "
         "off) and the force on every latch; dots are instants computed with the stiffness "
         "of the cold door, rings states solved with their own, lines between are drawn "
         "straight.";
}

} // namespace

figures::Figure warm_up_chart(const input::DoorCase& c, const check::CheckRun& run,
                              const figures::FigureOptions& form)
{
  const figures::UnitFormatter words = output::unit_formatter(c.units);
  const double range = run.curve.back().time / minute;
  plots::CurveChart chart{
      {"The warm-up", c.door.name + "; skins on average, bow of the middle against the corners"},
      "time from the start of the fire, min",
      minute_step(range),
      {heat_pane(c, run, words), bow_pane(run, words)},
      instants_of(run, range)};
  plots::FigureSize size = form.size;
  if (!run.closed_history.empty() && !run.closed.empty()) {
    chart.panes.push_back(gasket_pane(c, run, words));
    chart.panes.push_back(latch_pane(c, run, words));
    constexpr double more = 1.6; // four panels need space for their numbers
    size.height *= form.as_requested ? 1.0 : more;
  }
  return {"warm-up", plots::curve_chart(chart, size), caption_of(run, words)};
}

} // namespace hangtrue::case_figures
