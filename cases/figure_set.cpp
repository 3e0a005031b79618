#include "cases/figure_set.hpp"

#include "cases/closed_charts.hpp"
#include "cases/quantity.hpp"
#include "cases/split_words.hpp"
#include "viz/display.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <functional>
#include <map>
#include <memory>

namespace hangtrue
{

namespace
{

constexpr double inch = 0.0254;                                  // m
constexpr double minute = 60.0;                                  // s
constexpr double ksi = 1000.0 * 4.4482216152605 / (inch * inch); // Pa

// Endings of the warm states, in the order in which a check comes by them.
std::vector<std::string> warm_endings(const Door& door)
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

bool warms_up(const Door& door)
{
  return !door.fire.schedule.empty() && !door.fire.measured.given;
}

std::string found_of(const Finding& f, Units units)
{
  const auto shown = [&](double v) {
    return f.plain ? fmt::format("{:.3f}", v) : format_short(v, f.kind, units);
  };
  return shown(f.found) + " of " + shown(f.limit);
}

Figure limits_chart(const DoorCase& c, const CheckRun& run, const FigureSize& size)
{
  std::vector<UseBar> bars;
  for (const auto& f : run.findings)
    bars.push_back({f.name, f.state, found_of(f, c.units), f.use,
                    f.limit > 0.0 ? f.error / f.limit : 0.0, verdict_word(f.verdict),
                    static_cast<int>(f.verdict)});
  const auto most = std::max_element(
      bars.begin(), bars.end(), [](const UseBar& a, const UseBar& b) { return a.use < b.use; });
  Figure figure{"limits", use_chart({"Use of every limit", c.door.name}, bars, size), ""};
  figure.caption = fmt::format(
      "Use of every limit, the largest on top: found over allowed; the thin bars with ends are the "
      "estimated error from the mesh. Largest: {}, {}, {:.0f} %.",
      most->name, most->where, 100.0 * most->use);
  return figure;
}

std::vector<const Deflection*> states_of(const CheckRun& run)
{
  std::vector<const Deflection*> states{&run.deflection};
  for (const auto& d : run.warm)
    states.push_back(&d);
  return states;
}

Figure drop_chart(const DoorCase& c, const CheckRun& run, const FigureSize& size)
{
  const FigureWords words = figure_words(c.units);
  StackedChart chart;
  chart.heading = {"What makes the latch corner drop", c.door.name};
  chart.axis = "drop, " + words.length_unit;
  chart.parts = {"play in the bores", "steel bending"};
  if (!run.warm.empty())
    chart.parts.emplace_back("heat");
  for (const auto* d : states_of(run)) {
    StackedBar bar{d->state, {}, words.length(d->drop)};
    for (const double part : {d->drop - d->elastic_drop - d->heat_drop, d->elastic_drop})
      bar.parts.push_back(words.length_number(part));
    if (!run.warm.empty())
      bar.parts.push_back(words.length_number(d->heat_drop));
    chart.bars.push_back(bar);
  }
  chart.limit = words.length_number(c.limits.drop.value);
  chart.limit_words = "limit " + words.length(c.limits.drop.value);
  const double high = std::min(size.height, 46.0 + 18.0 * static_cast<double>(chart.bars.size()));
  Figure figure{"drop-parts", stacked_chart(chart, {size.width, high}), ""};
  figure.caption =
      "What makes the latch corner drop: the parts of each state add up to the drop at "
      "the end of its bar; parts left of zero lift it. Limit: " +
      c.limits.drop.origin + ".";
  return figure;
}

// The parts that matter most in any state, by name, at most `most` of them.
std::vector<std::string> main_parts(const std::vector<const Deflection*>& states, std::size_t most)
{
  std::map<std::string, double> largest;
  for (const auto* d : states)
    for (const auto& share : d->budget) {
      double& l = largest[share.part];
      l = std::max(l, std::abs(share.drop));
    }
  std::vector<std::pair<double, std::string>> sorted;
  for (const auto& [part, drop] : largest)
    sorted.emplace_back(-drop, part);
  std::sort(sorted.begin(), sorted.end());
  std::vector<std::string> parts;
  for (const auto& [drop, part] : sorted)
    if (parts.size() < most)
      parts.push_back(part);
  return parts;
}

// Shares of the drop by the unit-load theorem, part by part.
Figure shares_chart(const DoorCase& c, const CheckRun& run, const FigureSize& size)
{
  const FigureWords words = figure_words(c.units);
  const auto states = states_of(run);
  StackedChart chart;
  chart.heading = {"Shares of the drop, part by part", c.door.name};
  chart.axis = "drop, " + words.length_unit;
  constexpr std::size_t most = 5;
  chart.parts = main_parts(states, most);
  const std::size_t named = chart.parts.size();
  chart.parts.emplace_back("all the rest");
  for (const auto* d : states) {
    StackedBar bar{d->state, std::vector<double>(named + 1), words.length(d->drop)};
    for (const auto& share : d->budget) {
      const auto found = std::find(chart.parts.begin(), chart.parts.end() - 1, share.part);
      bar.parts[found - chart.parts.begin()] += words.length_number(share.drop);
    }
    chart.bars.push_back(bar);
  }
  chart.limit = words.length_number(c.limits.drop.value);
  chart.limit_words = "limit " + words.length(c.limits.drop.value);
  const double high = std::min(size.height, 52.0 + 18.0 * static_cast<double>(chart.bars.size()));
  Figure figure{"drop-shares", stacked_chart(chart, {size.width, high}), ""};
  figure.caption =
      "Shares of the drop by the unit-load theorem: they add up to the drop; shares left "
      "of zero lift it. Money goes to the largest.";
  return figure;
}

// Steps of a time axis that a clock knows, min.
double minute_step(double range)
{
  for (const double step : {5.0, 10.0, 15.0, 30.0, 60.0, 120.0, 240.0})
    if (range / step <= 9.0)
      return step;
  return 480.0;
}

Figure warm_up_chart(const DoorCase& c, const CheckRun& run, const FigureSize& size)
{
  const FigureWords words = figure_words(c.units);
  Curve gas{"gas", {}, series_colour(3), Dash::dashed};
  Curve inner{"inner skin", {}, series_colour(1)};
  Curve outer{"outer skin", {}, series_colour(0)};
  Curve bow{"by hand", {}, series_colour(0)};
  for (const auto& p : run.curve) {
    const double t = p.time / minute;
    gas.points.push_back({t, words.temperature_number(p.gas)});
    inner.points.push_back({t, words.temperature_number(p.inner_skin)});
    outer.points.push_back({t, words.temperature_number(p.outer_skin)});
    bow.points.push_back({t, words.length_number(std::abs(p.hand_bow))});
  }
  const Deflection& worst = run.warm.front();
  const double at = worst.warmth.time / minute;
  Pane heat{"temperature, " + words.temperature_unit, {gas, inner, outer}, {}, {}, false};
  heat.limits.push_back({words.temperature_number(c.limits.touch.value), "limit outside"});
  heat.marks.push_back({{at, words.temperature_number(worst.warmth.outside_hottest)},
                        "hottest outside " + words.temperature(worst.warmth.outside_hottest)});
  Pane bowed{"bow, " + words.length_unit, {bow}, {}, {}, true};
  bowed.marks.push_back({{at, words.length_number(std::abs(worst.bow.outer_corners))},
                         "computed " + words.length(std::abs(worst.bow.outer_corners))});
  CurveChart chart{{"The warm-up", c.door.name +
                                       "; skins on average, bow of the middle against the "
                                       "corners"},
                   "time from the start of the fire, min",
                   minute_step(run.curve.back().time / minute),
                   {heat, bowed},
                   {{at, "most bowed"}}};
  Figure figure{"warm-up", curve_chart(chart, size), ""};
  figure.caption = fmt::format(
      "The warm-up by the schedule of the door file. The bow by hand is the two-skin formula from "
      "the mean temperatures; the ring is the computed bow of the most bowed instant, {:.0f} min: "
      "{}.",
      at, words.length(std::abs(worst.bow.outer_corners)));
  return figure;
}

struct Maker {
  std::string name;
  bool picture; ///< needs a display
  std::function<Figure()> make;
};

std::vector<Maker> makers_of(const DoorCase& c, const CheckRun& run, const FigureForm& form)
{
  const Door& door = c.door;
  const Deflection& d = run.deflection;
  const FigureWords words = figure_words(c.units);
  std::vector<Maker> makers{
      {"door", true, [=, &door, &run, &d] { return door_figure(door, run.mesh, d, words, form); }},
      {"drop", true, [=, &door, &run, &d] { return drop_figure(door, run.mesh, d, words, form); }},
      {"hinge", true,
       [=, &door, &run, &d] { return hinge_figure(door, run.mesh, d, words, form); }},
      {"limits", false, [&c, &run, form] { return limits_chart(c, run, form.size); }},
      {"drop-parts", false, [&c, &run, form] { return drop_chart(c, run, form.size); }}};
  makers.push_back(
      {"drop-shares", false, [&c, &run, form] { return shares_chart(c, run, form.size); }});
  if (!run.warm.empty())
    makers.push_back(
        {"bow-shares", false, [&c, &run, form] { return bow_shares_chart(c, run, form.size); }});
  if (!run.closed.empty()) {
    makers.push_back({"squeeze-shares", false,
                      [&c, &run, form] { return squeeze_shares_chart(c, run, form.size); }});
    makers.push_back(
        {"gasket", false, [&c, &run, form] { return gasket_chart(c, run, form.size); }});
    makers.push_back({"gasket-ribbon", true, [=, &door, &run] {
                        return gasket_figure(door, run.mesh, least_sealed(run), words, form);
                      }});
  }
  if (!run.wear.years.empty())
    makers.push_back({"wear", false, [&c, &run, form] { return wear_chart(c, run, form.size); }});
  if (warms_up(door))
    makers.push_back(
        {"warm-up", false, [&c, &run, form] { return warm_up_chart(c, run, form.size); }});
  const auto endings = warm_endings(door);
  for (std::size_t s = 0; s < run.warm.size(); ++s) {
    const Deflection& warm = run.warm[s];
    const auto& field = run.fields[s];
    const double touch = c.limits.touch.value;
    makers.push_back({"temperature" + endings.at(s), true, [=, &door, &run, &warm, &field] {
                        return temperature_figure(door, run.mesh, warm, field, touch, words, form);
                      }});
    makers.push_back({"stress" + endings.at(s), true, [=, &door, &run, &warm, &field] {
                        return stress_figure(door, run.mesh, warm, field, words, form);
                      }});
    makers.push_back({"bow" + endings.at(s), true, [=, &door, &run, &warm] {
                        return bow_figure(door, run.mesh, warm, words, form);
                      }});
  }
  return makers;
}

} // namespace

std::vector<std::string> figure_names(const DoorCase& c)
{
  const Door& door = c.door;
  std::vector<std::string> names{"door", "drop", "hinge", "limits", "drop-parts", "drop-shares"};
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

FigureSet make_figures(const DoorCase& door_case, const CheckRun& run,
                       const std::vector<std::string>& names, const FigureForm& form,
                       const Progress& progress)
{
  FigureSet set;
  std::unique_ptr<Display> display; // started for the first picture
  for (const auto& maker : makers_of(door_case, run, form)) {
    if (std::find(names.begin(), names.end(), maker.name) == names.end())
      continue;
    if (progress)
      progress("figure " + maker.name, 1.0);
    if (maker.picture && !display)
      display = std::make_unique<Display>();
    if (maker.picture && !display->ready()) {
      set.trouble = display->trouble();
      continue;
    }
    set.figures.push_back(maker.make());
    set.figures.back().name = maker.name;
  }
  return set;
}

FigureWords figure_words(Units units)
{
  const bool us = units == Units::us;
  FigureWords words;
  words.length = [units](double m) { return format_quantity(m, Kind::length, units); };
  words.size = [us](double m) {
    return us ? tape_fraction(m) + " in" : fmt::format("{:.4g} mm", 1e3 * m);
  };
  words.force = [units](double n) { return format_short(n, Kind::force, units); };
  words.moment = [units](double m) { return format_short(m, Kind::moment, units); };
  words.temperature = [units](double t) { return format_short(t, Kind::temperature, units); };
  words.stress = [units](double pa) { return format_short(pa, Kind::stress, units); };
  words.stress_number = [us](double pa) { return us ? pa / ksi : 1e-6 * pa; };
  words.stress_unit = us ? "ksi" : "MPa";
  words.length_number = [us](double m) { return us ? m / inch : 1e3 * m; };
  words.temperature_number = [us](double t) { return us ? 1.8 * t + 32.0 : t; };
  words.length_unit = us ? "in" : "mm";
  words.temperature_unit = us ? "degF" : "degC";
  return words;
}

} // namespace hangtrue
