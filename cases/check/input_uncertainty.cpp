#include "cases/check/input_uncertainty.hpp"

#include "cases/verdict/checks.hpp"
#include "meshing/door/mesh_density.hpp"
#include "solver/analysis/closed_result.hpp"
#include "solver/contact/gasket_model.hpp"

#include <algorithm>
#include <cmath>
#include <utility>

namespace hangtrue
{

namespace
{

void add_closed_state(const ThermalStateId& thermal, std::vector<SensitivityState>& states)
{
  const auto same = std::find_if(states.begin(), states.end(),
                                 [&](const SensitivityState& s) { return s.thermal == thermal; });
  if (same != states.end())
    same->closed = true;
  else
    states.push_back({thermal, false, true});
}

// Cold, every thermal state with its closed one, and closed states of instants of their own; not
// the cooled one.
std::vector<SensitivityState> states_of(const CheckRun& run)
{
  std::vector<SensitivityState> states{{run.deflection.state.thermal, true, false}};
  if (!run.closed.empty())
    add_closed_state(run.closed.front().state.thermal, states);
  for (const auto& d : run.warm)
    states.push_back({d.state.thermal, true, false});
  for (const auto& c : run.closed)
    if (is_hot(c.state.thermal))
      add_closed_state(c.state.thermal, states);
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

// The quantity as in the check itself, which may be on a finer mesh than its sensitivities.
double found_in(const CheckRun& run, const QoiSensitivities& q)
{
  std::vector<const Deflection*> open{&run.deflection};
  for (const auto& d : run.warm)
    open.push_back(&d);
  for (const auto* d : open)
    if (d->state == q.id.state)
      return q.id.quantity == Quantity::drop ? d->drop : d->bow.outer_corners;
  for (const auto& c : run.closed)
    if (c.state == q.id.state && c.split)
      return c.split->whole;
  return q.whole;
}

QoiInterval interval_of(const CheckRun& run, const Sureness& s, const QoiSensitivities& q)
{
  QoiInterval range{q.id, found_in(run, q), 0.0, 0.0, {}};
  for (const auto& slope : q.slopes) {
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
std::pair<double, double> load_range(const Gasket& gasket, const QoiInterval& range,
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

// The range of a checked quantity: of the drop itself, and of the least load by that of the
// squeeze.
void add_likely(const DoorCase& c, const QoiInterval& range, CheckRun& run)
{
  if (range.id.quantity == Quantity::drop)
    if (QuantityOfInterest* drop = find_quantity(run.quantities, range.id))
      drop->likely = {std::max(0.0, range.found - range.likely), range.found + range.likely};
  if (range.id.quantity == Quantity::least_squeeze)
    if (QuantityOfInterest* load =
            find_quantity(run.quantities, {range.id.state, Quantity::gasket_load}))
      load->likely = load_range(c.door.gasket, range, run.sureness.bands);
}

} // namespace

void add_spread(const DoorCase& door_case, const Progress& progress, CheckRun& run)
{
  const Door& door = door_case.door;
  Sureness& s = run.sureness;
  s.nudges = door_nudges(door);
  s.bands = bands_of(door_case, s.nudges);
  constexpr int coarsest = 1;
  s.slopes = adjoint_sensitivities(door, fineness(door, coarsest), states_of(run), s.nudges,
                                   [&](double share) {
                                     if (progress)
                                       progress("how sure it is", share);
                                   });
  for (const auto& one : s.slopes)
    s.ranges.push_back(interval_of(run, s, one));
  for (const auto& range : s.ranges)
    add_likely(door_case, range, run);
  run.checks = evaluate_checks(door_case, run.quantities);
}

} // namespace hangtrue
