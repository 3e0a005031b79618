#include "cases/check/input_uncertainty.hpp"

#include "cases/input/units.hpp"
#include "cases/verdict/check_result.hpp"
#include "meshing/door/mesh_density.hpp"
#include "solver/analysis/closed_result.hpp"
#include "solver/contact/gasket_model.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <utility>

namespace hangtrue
{

namespace
{

const ClosedDoor* closed_at(const CheckRun& run, bool warm, double time)
{
  for (const auto& c : run.closed)
    if (c.warm == warm && c.time == time)
      return &c;
  return nullptr;
}

// Cold, every warm state with its closed one, and closed states of instants of their own.
std::vector<SlopeState> states_of(const Door& door, const CheckRun& run)
{
  std::vector<SlopeState> states{{.open = run.deflection.state}};
  if (!run.closed.empty())
    states.front().closed = run.closed.front().state;
  for (const auto& d : run.warm) {
    const bool steady = door.fire.measured.given || &d == &run.warm.back();
    SlopeState s{.open = d.state,
                 .heat = steady ? StateHeat::steady : StateHeat::at_time,
                 .time = d.warmth.time};
    if (const ClosedDoor* c = closed_at(run, true, s.time))
      s.closed = c->state;
    states.push_back(s);
  }
  for (const auto& c : run.closed)
    if (c.warm && std::none_of(states.begin(), states.end(),
                               [&](const SlopeState& s) { return s.closed == c.state; }))
      states.push_back({.closed = c.state, .heat = StateHeat::at_time, .time = c.time});
  return states;
}

std::vector<UsedBand> bands_of(const DoorCase& c, const std::vector<Nudge>& nudges)
{
  std::vector<UsedBand> used;
  for (const auto& nudge : nudges)
    for (const auto& band : c.bands)
      if (band.key == nudge.key && band.half > 0.0)
        used.push_back({nudge.key, nudge.what, nudge.value,
                        band.plain ? band.half * nudge.value : band.half, nudge.factor,
                        band.given});
  return used;
}

// The answer of the check itself, which may be on a finer mesh than its slopes.
double found_in(const CheckRun& run, const AnswerSlopes& a)
{
  std::vector<const Deflection*> open{&run.deflection};
  for (const auto& d : run.warm)
    open.push_back(&d);
  for (const auto* d : open)
    if (d->state == a.state && a.answer != squeeze_answer)
      return a.answer == drop_answer ? d->drop : d->bow.outer_corners;
  for (const auto& c : run.closed)
    if (c.state == a.state)
      return c.split.whole;
  return a.whole;
}

AnswerRange range_of(const CheckRun& run, const Sureness& s, const AnswerSlopes& answer)
{
  AnswerRange range{answer.state, answer.answer, found_in(run, answer), 0.0, 0.0, {}};
  for (const auto& slope : answer.slopes) {
    const Nudge& nudge = s.nudges[slope.nudge];
    const auto band = std::find_if(s.bands.begin(), s.bands.end(),
                                   [&](const UsedBand& b) { return b.key == nudge.key; });
    if (band == s.bands.end() || !slope.value)
      continue;
    const double by = *slope.value * band->half;
    range.parts.push_back({nudge.key, nudge.what, by});
    range.likely += by * by;
    range.at_most += std::abs(by);
  }
  range.likely = std::sqrt(range.likely);
  std::stable_sort(
      range.parts.begin(), range.parts.end(),
      [](const RangePart& a, const RangePart& b) { return std::abs(a.by) > std::abs(b.by); });
  return range;
}

// Loads of the gasket, N/m, when its squeeze is off as in the range; a stiffer gasket also presses
// more at the same squeeze.
std::pair<double, double> load_range(const Gasket& gasket, const AnswerRange& range,
                                     const std::vector<UsedBand>& bands)
{
  const double as_is = line_load(gasket, range.found).load;
  double less = 0.0;
  double more = 0.0;
  for (const auto& part : range.parts) {
    double own = 0.0;
    if (part.key == "gasket.curve")
      for (const auto& band : bands)
        own += band.key == part.key ? band.half * as_is : 0.0;
    const double up = line_load(gasket, range.found + part.by).load - as_is + own;
    const double down = line_load(gasket, range.found - part.by).load - as_is - own;
    less += std::pow(std::min({up, down, 0.0}), 2);
    more += std::pow(std::max({up, down, 0.0}), 2);
  }
  return {std::max(0.0, as_is - std::sqrt(less)), as_is + std::sqrt(more)};
}

// The range in the unit of the finding, or nothing where the finding is of something else.
std::optional<std::pair<double, double>> likely_of(const DoorCase& c, const CheckRun& run,
                                                   const AnswerRange& range, const Finding& f)
{
  if (f.state != range.state)
    return std::nullopt;
  if (range.answer == drop_answer && f.name == drop_answer)
    return std::pair(std::max(0.0, range.found - range.likely), range.found + range.likely);
  if (range.answer == squeeze_answer && f.name == "least load of the gasket")
    return load_range(c.door.gasket, range, run.sureness.bands);
  return std::nullopt;
}

void put_to(const DoorCase& c, const CheckRun& run, const AnswerRange& range, Finding& f)
{
  const auto likely = likely_of(c, run, range, f);
  if (!likely)
    return;
  f.likely = likely;
  f.reason += fmt::format("; likely between {} and {} (--spread)",
                          format_short(likely->first, f.kind, c.units),
                          format_short(likely->second, f.kind, c.units));
  const bool crosses = f.at_least ? likely->first < f.limit : likely->second > f.limit;
  if (f.verdict == Verdict::holds && crosses)
    f.verdict = Verdict::close;
}

} // namespace

void add_spread(const DoorCase& door_case, const Progress& progress, CheckRun& run)
{
  const Door& door = door_case.door;
  Sureness& s = run.sureness;
  s.nudges = door_nudges(door);
  s.bands = bands_of(door_case, s.nudges);
  constexpr int coarsest = 1;
  s.slopes = answer_slopes(door, fineness(door, coarsest), states_of(door, run), s.nudges,
                           [&](double share) {
                             if (progress)
                               progress("how sure it is", share);
                           });
  for (const auto& answer : s.slopes)
    s.ranges.push_back(range_of(run, s, answer));
  for (const auto& range : s.ranges)
    for (auto& finding : run.findings)
      put_to(door_case, run, range, finding);
}

} // namespace hangtrue
