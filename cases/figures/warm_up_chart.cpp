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

namespace hangtrue
{

namespace
{

using unit::minute;

// Tick steps of a time axis in clock units, min.
double minute_step(double range)
{
  for (const double step : {5.0, 10.0, 15.0, 30.0, 60.0, 120.0, 240.0})
    if (range / step <= 9.0)
      return step;
  return 480.0;
}

Pane heat_pane(const DoorCase& c, const CheckRun& run, const FigureWords& words)
{
  Curve gas{"gas", {}, series_colour(3), Dash::dashed};
  Curve inner{"inner skin", {}, series_colour(1)};
  Curve outer{"outer skin", {}, series_colour(0)};
  for (const auto& p : run.curve) {
    const double t = p.time / minute;
    gas.points.push_back({t, words.temperature_number(p.gas)});
    inner.points.push_back({t, words.temperature_number(p.inner_skin)});
    outer.points.push_back({t, words.temperature_number(p.outer_skin)});
  }
  const Warmth& worst = run.warm.front().warmth;
  Pane pane{"temperature, " + words.temperature_unit, {gas, inner, outer}, {}, {}, false};
  pane.limits.push_back({words.temperature_number(c.limits.touch.value), "limit outside"});
  pane.marks.push_back({{worst.time / minute, words.temperature_number(worst.outside_hottest)},
                        "hottest outside " + words.temperature(worst.outside_hottest)});
  return pane;
}

Pane bow_pane(const CheckRun& run, const FigureWords& words)
{
  Curve bow{"by hand", {}, series_colour(0)};
  for (const auto& p : run.curve)
    bow.points.push_back({p.time / minute, words.length_number(std::abs(p.hand_bow))});
  const Deflection& worst = run.warm.front();
  const double computed = std::abs(worst.bow.outer_corners);
  Pane pane{"bow, " + words.length_unit, {bow}, {}, {}, true};
  pane.marks.push_back({{worst.warmth.time / minute, words.length_number(computed)},
                        "computed " + words.length(computed)});
  return pane;
}

double least_squeeze(const ClosedDoor& closed)
{
  return std::min_element(
             closed.gasket.begin(), closed.gasket.end(),
             [](const GasketAt& a, const GasketAt& b) { return a.squeeze < b.squeeze; })
      ->squeeze;
}

// Closed states of the warm-up that were solved on their own: they have a time on the axis.
std::vector<const ClosedDoor*> solved_on_the_way(const CheckRun& run)
{
  std::vector<const ClosedDoor*> states;
  for (const auto& d : run.closed)
    if (d.warm && d.state.thermal.which != ThermalCase::steady)
      states.push_back(&d);
  return states;
}

Pane gasket_pane(const DoorCase& c, const CheckRun& run, const FigureWords& words)
{
  Curve least{"gasket", {}, series_colour(1), Dash::solid, true};
  least.points.push_back({0.0, words.length_number(least_squeeze(run.closed.front()))});
  for (const auto& i : run.shut_way)
    least.points.push_back({i.time / minute, words.length_number(i.least_squeeze)});
  Pane pane{"least squeeze, " + words.length_unit, {least}, {}, {}, true};
  pane.limits.push_back(
      {words.length_number(sealing_squeeze(c.door.gasket)), "seals from here up"});
  for (const auto* d : solved_on_the_way(run)) {
    const double squeeze = least_squeeze(*d);
    pane.marks.push_back({{d->time / minute, words.length_number(squeeze)},
                          d == solved_on_the_way(run).front() ? words.length(squeeze) : ""});
  }
  return pane;
}

// The force on a latch at which the force at its lever is at the limit, N.
double hand_limit_on_latch(const DoorCase& c)
{
  double least = 1e300;
  for (const auto& latch : c.door.latches)
    least = std::min(least, c.limits.hand.value / hand_force(latch, 1.0));
  return least;
}

Pane latch_pane(const DoorCase& c, const CheckRun& run, const FigureWords& words)
{
  Pane pane{"latch, " + words.force_unit, {}, {}, {}, true};
  for (std::size_t l = 0; l < c.door.latches.size(); ++l) {
    const int index = static_cast<int>(l);
    Curve curve{fmt::format("latch {}", l + 1),
                {},
                series_colour(index),
                index >= 4 ? Dash::dashed : Dash::solid,
                true};
    curve.points.push_back({0.0, words.force_number(run.closed.front().latches[l].force)});
    for (const auto& i : run.shut_way)
      curve.points.push_back({i.time / minute, words.force_number(i.latch[l])});
    pane.curves.push_back(curve);
    for (const auto* d : solved_on_the_way(run))
      pane.marks.push_back({{d->time / minute, words.force_number(d->latches[l].force)}, ""});
  }
  pane.limits.push_back(
      {words.force_number(hand_limit_on_latch(c)),
       "the lever takes " + words.force(c.limits.hand.value) + ", the limit of the hand"});
  return pane;
}

// "most bowed", and where the gasket presses least when that is well apart.
std::vector<LevelLine> instants_of(const CheckRun& run, double range)
{
  const double bowed = run.warm.front().warmth.time / minute;
  std::vector<LevelLine> lines{{bowed, "most bowed"}};
  const auto loosest = std::min_element(
      run.shut_way.begin(), run.shut_way.end(),
      [](const ShutInstant& a, const ShutInstant& b) { return a.least_load < b.least_load; });
  if (loosest == run.shut_way.end())
    return lines;
  const double loose = loosest->time / minute;
  constexpr double room = 0.2; // of the axis, for the text of both
  if (std::abs(loose - bowed) < 0.01 * range)
    lines.front().words = "most bowed, gasket loosest";
  else if (std::abs(loose - bowed) > room * range)
    lines.push_back({loose, "gasket loosest"});
  return lines;
}

std::string caption_of(const CheckRun& run, const FigureWords& words)
{
  const Deflection& worst = run.warm.front();
  std::string text = fmt::format(
      "The warm-up by the schedule of the door file. The bow by hand is the two-skin formula from "
      "the mean temperatures; the ring is the computed bow of the most bowed instant, {:.0f} min: "
      "{}.",
      worst.warmth.time / minute, words.length(std::abs(worst.bow.outer_corners)));
  if (run.shut_way.empty())
    return text;
  return text +
         " Below: the least squeeze of the gasket anywhere on its line (under zero it stands "
         "off) and the force on every latch; dots are instants computed with the stiffness "
         "of the cold door, rings states solved with their own, lines between are drawn "
         "straight.";
}

} // namespace

Figure warm_up_chart(const DoorCase& c, const CheckRun& run, const FigureForm& form)
{
  const FigureWords words = figure_words(c.units);
  const double range = run.curve.back().time / minute;
  CurveChart chart{
      {"The warm-up", c.door.name + "; skins on average, bow of the middle against the corners"},
      "time from the start of the fire, min",
      minute_step(range),
      {heat_pane(c, run, words), bow_pane(run, words)},
      instants_of(run, range)};
  FigureSize size = form.size;
  if (!run.shut_way.empty() && !run.closed.empty()) {
    chart.panes.push_back(gasket_pane(c, run, words));
    chart.panes.push_back(latch_pane(c, run, words));
    constexpr double more = 1.6; // four panels need space for their numbers
    size.height *= form.as_asked ? 1.0 : more;
  }
  return {"warm-up", curve_chart(chart, size), caption_of(run, words)};
}

} // namespace hangtrue
