// SPDX-License-Identifier: GPL-3.0-or-later
#include "cases/figures/figure_set.hpp"

#include "cases/figures/closed_charts.hpp"
#include "cases/figures/drop_contribution_chart.hpp"
#include "cases/figures/warm_up_chart.hpp"
#include "cases/input/units.hpp"
#include "cases/output/contribution_text.hpp"
#include "cases/output/end_float_text.hpp"
#include "cases/output/unit_formatter.hpp"
#include "cases/verdict/check_result.hpp"
#include "cases/verdict/quantity_table.hpp"
#include "viz/scene/offscreen_display.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <functional>
#include <memory>

namespace hangtrue::case_figures
{

namespace
{

// File endings of the thermal states, in the order of a check.
std::vector<std::string> warm_endings(const door::Door& door)
{
  if (door.fire.measured.given)
    return {"-measured"};
  if (door.fire.schedule.empty())
    return {};
  std::vector<std::string> endings{"-most-bowed"};
  for (std::size_t i = 0; i < door.fire.instants.size(); ++i)
    endings.push_back(fmt::format("-instant-{}", i + 1));
  endings.emplace_back("-steady");
  return endings;
}

bool warms_up(const door::Door& door)
{
  return !door.fire.schedule.empty() && !door.fire.measured.given;
}

std::string found_of(const verdict::CheckResult& check, input::UnitSystem units)
{
  return verdict::value_text(check.id.quantity, check.found, units) + " of " +
         verdict::value_text(check.id.quantity, check.limit, units);
}

figures::Figure limits_chart(const input::DoorCase& c, const check::CheckRun& run,
                             const plots::FigureSize& size)
{
  std::vector<plots::UtilisationBar> bars;
  for (const auto& check : run.checks)
    bars.push_back(
        {verdict::quantity_label(c, check.id), system::state_label(check.id.state),
         found_of(check, c.units), check.utilisation,
         check.limit > 0.0 ? verdict::total_error(check).value_or(0.0) / check.limit : 0.0,
         verdict::verdict_text(check.verdict), static_cast<int>(check.verdict)});
  const auto maximum = std::max_element(
      bars.begin(), bars.end(), [](const plots::UtilisationBar& a, const plots::UtilisationBar& b) {
        return a.utilisation < b.utilisation;
      });
  figures::Figure figure{
      "limits", plots::utilisation_chart({"Use of every limit", c.door.name}, bars, size), ""};
  figure.caption = fmt::format(
      "Use of every limit, the largest on top: found over allowed; the thin bars with ends are the "
      "estimated error from the mesh. Largest: {}, {}, {:.0f} %.",
      maximum->name, maximum->where, 100.0 * maximum->utilisation);
  return figure;
}

std::vector<const analysis::OpenDoorResult*> states_of(const check::CheckRun& run)
{
  std::vector<const analysis::OpenDoorResult*> states{&run.open_cold};
  for (const auto& d : run.open_thermal)
    states.push_back(&d);
  return states;
}

figures::Figure drop_chart(const input::DoorCase& c, const check::CheckRun& run,
                           const plots::FigureSize& size)
{
  const figures::UnitFormatter words = output::unit_formatter(c.units);
  plots::StackedChart chart;
  chart.heading = {"What makes the latch corner drop", c.door.name};
  chart.axis = "drop, " + words.length_unit;
  chart.parts = {"play in the bores", "steel bending"};
  if (!run.open_thermal.empty())
    chart.parts.emplace_back("heat");
  for (const auto* d : states_of(run)) {
    plots::StackedBar bar{system::state_label(d->state), {}, words.length(d->drop), "", 0};
    for (const double part : {d->drop - d->elastic_drop - d->heat_drop, d->elastic_drop})
      bar.parts.push_back(words.length_number(part));
    if (!run.open_thermal.empty())
      bar.parts.push_back(words.length_number(d->heat_drop));
    chart.bars.push_back(bar);
  }
  chart.limit = words.length_number(c.limits.drop.value);
  chart.limit_words = "limit " + words.length(c.limits.drop.value);
  const double high = std::min(size.height, 46.0 + 18.0 * static_cast<double>(chart.bars.size()));
  figures::Figure figure{"drop-parts", plots::stacked_chart(chart, {size.width, high}), ""};
  figure.caption =
      "What makes the latch corner drop: the parts of each state add up to the drop at "
      "the end of its bar; parts left of zero lift it. Limit: " +
      c.limits.drop.origin + ".";
  return figure;
}

// Contributions to the drop by the unit-load theorem, part by part.
figures::Figure shares_chart(const input::DoorCase& c, const check::CheckRun& run,
                             const plots::FigureSize& size)
{
  const figures::UnitFormatter words = output::unit_formatter(c.units);
  std::vector<DropRow> rows;
  for (const auto* d : states_of(run))
    rows.push_back(
        {system::state_label(d->state), named(d->drop_contributions), words.length(d->drop)});
  plots::StackedChart chart = drop_contribution_chart(rows, words);
  chart.heading = {"Shares of the drop, part by part", c.door.name};
  chart.limit = words.length_number(c.limits.drop.value);
  chart.limit_words = "limit " + words.length(c.limits.drop.value);
  const double high = std::min(size.height, 52.0 + 18.0 * static_cast<double>(chart.bars.size()));
  figures::Figure figure{"drop-shares", plots::stacked_chart(chart, {size.width, high}), ""};
  figure.caption =
      "Shares of the drop by the unit-load theorem: they add up to the drop; shares left "
      "of zero lift it. Money goes to the largest.";
  return figure;
}

struct Maker {
  std::string name;
  bool picture; ///< needs a display
  std::function<figures::Figure()> make;
};

std::vector<Maker> makers_of(const input::DoorCase& c, const check::CheckRun& run,
                             const figures::FigureOptions& form)
{
  const door::Door& door = c.door;
  const analysis::OpenDoorResult& d = run.open_cold;
  const figures::UnitFormatter words = output::unit_formatter(c.units);
  std::vector<Maker> makers{
      {"door", true,
       [=, &door, &run, &d] { return figures::door_figure(door, run.mesh, d, words, form); }},
      {"drop", true,
       [=, &door, &run, &d] {
         return figures::drop_figure(
             door, run.mesh, d, verdict::error_of(run.quantities, {d.state, qoi::Quantity::drop}),
             words, form);
       }},
      {"hinge", true,
       [=, &door, &run, &d] { return figures::hinge_figure(door, run.mesh, d, words, form); }},
      {"limits", false, [&c, &run, form] { return limits_chart(c, run, form.size); }},
      {"drop-parts", false, [&c, &run, form] { return drop_chart(c, run, form.size); }}};
  makers.push_back(
      {"drop-shares", false, [&c, &run, form] { return shares_chart(c, run, form.size); }});
  makers.push_back({"end-float", false,
                    [&c, &run, form] { return output::end_float_chart(c, run, form.size); }});
  if (!run.open_thermal.empty())
    makers.push_back({"bow-shares", false, [&c, &run, form] {
                        return output::bow_contribution_chart(c, run, form.size);
                      }});
  if (!run.closed.empty()) {
    makers.push_back({"squeeze-shares", false, [&c, &run, form] {
                        return output::squeeze_contribution_chart(c, run, form.size);
                      }});
    makers.push_back(
        {"gasket", false, [&c, &run, form] { return gasket_chart(c, run, form.size); }});
    makers.push_back({"gasket-ribbon", true, [=, &door, &run] {
                        return figures::gasket_figure(door, run.mesh, least_sealed(run), words,
                                                      form);
                      }});
  }
  if (!run.wear.years.empty())
    makers.push_back({"wear", false, [&c, &run, form] { return wear_chart(c, run, form.size); }});
  if (warms_up(door))
    makers.push_back({"warm-up", false, [&c, &run, form] { return warm_up_chart(c, run, form); }});
  const auto endings = warm_endings(door);
  for (std::size_t s = 0; s < run.open_thermal.size(); ++s) {
    const analysis::OpenDoorResult& warm = run.open_thermal[s];
    const auto& field = run.fields[s];
    const double touch = c.limits.touch.value;
    makers.push_back({"temperature" + endings.at(s), true, [=, &door, &run, &warm, &field] {
                        return figures::temperature_figure(door, run.mesh, warm, field, touch,
                                                           words, form);
                      }});
    makers.push_back({"stress" + endings.at(s), true, [=, &door, &run, &warm] {
                        return figures::stress_figure(door, run.mesh, warm, words, form);
                      }});
    makers.push_back({"bow" + endings.at(s), true, [=, &door, &run, &warm] {
                        return figures::bow_figure(door, run.mesh, warm, words, form);
                      }});
  }
  return makers;
}

} // namespace

std::vector<std::string> figure_names(const input::DoorCase& c)
{
  const door::Door& door = c.door;
  std::vector<std::string> names{"door",       "drop",        "hinge",    "limits",
                                 "drop-parts", "drop-shares", "end-float"};
  if (!warm_endings(door).empty())
    names.emplace_back("bow-shares");
  if (!door.gasket.curve.empty() && !door.latches.empty())
    names.insert(names.end(), {"squeeze-shares", "gasket", "gasket-ribbon"});
  if (c.use.swings_per_day > 0.0)
    names.emplace_back("wear");
  if (warms_up(door))
    names.emplace_back("warm-up");
  for (const auto& ending : warm_endings(door))
    for (const auto* what : {"temperature", "stress", "bow"})
      names.push_back(what + ending);
  return names;
}

FigureSet make_figures(const input::DoorCase& door_case, const check::CheckRun& run,
                       const std::vector<std::string>& names, const figures::FigureOptions& form,
                       const Progress& progress)
{
  FigureSet set;
  std::unique_ptr<scene::Display> display; // started for the first picture
  for (const auto& maker : makers_of(door_case, run, form)) {
    if (std::find(names.begin(), names.end(), maker.name) == names.end())
      continue;
    if (progress)
      progress("figure " + maker.name, 1.0);
    if (maker.picture && !display)
      display = std::make_unique<scene::Display>();
    if (maker.picture && !display->ready()) {
      set.trouble = display->trouble();
      continue;
    }
    set.figures.push_back(maker.make());
    set.figures.back().name = maker.name;
  }
  return set;
}

} // namespace hangtrue::case_figures
