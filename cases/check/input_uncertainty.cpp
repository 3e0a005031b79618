// SPDX-License-Identifier: GPL-3.0-or-later
#include "cases/check/input_uncertainty.hpp"

#include "cases/verdict/checks.hpp"
#include "meshing/door/mesh_density.hpp"
#include "solver/analysis/closed_result.hpp"
#include "solver/contact/gasket_model.hpp"

#include <algorithm>
#include <cmath>
#include <utility>

namespace hangtrue::check
{

namespace
{

void add_closed_state(const heat::ThermalStateId& thermal,
                      std::vector<sensitivity::SensitivityState>& states)
{
  const auto same =
      std::find_if(states.begin(), states.end(),
                   [&](const sensitivity::SensitivityState& s) { return s.thermal == thermal; });
  if (same != states.end())
    same->closed = true;
  else
    states.push_back({thermal, false, true});
}

// Cold, every thermal state with its closed one, and closed states of instants of their own; not
// the cooled one.
std::vector<sensitivity::SensitivityState> states_of(const CheckRun& run)
{
  std::vector<sensitivity::SensitivityState> states{{run.open_cold.state.thermal, true, false}};
  if (!run.closed.empty())
    add_closed_state(run.closed.front().state.thermal, states);
  for (const auto& d : run.open_thermal)
    states.push_back({d.state.thermal, true, false});
  for (const auto& c : run.closed)
    if (heat::is_hot(c.state.thermal))
      add_closed_state(c.state.thermal, states);
  return states;
}

std::vector<AppliedTolerance> bands_of(const input::DoorCase& c,
                                       const std::vector<sensitivity::UncertainInput>& inputs)
{
  std::vector<AppliedTolerance> used;
  for (const auto& input : inputs)
    for (const auto& band : c.bands)
      if (band.key == input.key && band.half > 0.0)
        used.push_back({input.key, input.what, input.value,
                        band.plain ? band.half * input.value : band.half, input.factor,
                        band.given});
  return used;
}

// The quantity as in the check itself, which may be on a finer mesh than its sensitivities.
double found_in(const CheckRun& run, const sensitivity::QoiSensitivities& q)
{
  std::vector<const analysis::OpenDoorResult*> open{&run.open_cold};
  for (const auto& d : run.open_thermal)
    open.push_back(&d);
  for (const auto* d : open)
    if (d->state == q.id.state)
      return q.id.quantity == qoi::Quantity::drop ? d->drop : d->bow.outer_corners;
  for (const auto& c : run.closed)
    if (c.state == q.id.state && c.split)
      return c.split->whole;
  return q.whole;
}

QoiInterval interval_of(const CheckRun& run, const UncertaintyResult& s,
                        const sensitivity::QoiSensitivities& q)
{
  QoiInterval range{q.id, found_in(run, q), 0.0, 0.0, {}};
  for (const auto& slope : q.sensitivities) {
    const sensitivity::UncertainInput& input = s.inputs[slope.input];
    const auto band = std::find_if(s.tolerances.begin(), s.tolerances.end(),
                                   [&](const AppliedTolerance& b) { return b.key == input.key; });
    if (band == s.tolerances.end() || !slope.derivative)
      continue;
    const double by = *slope.derivative * band->half;
    range.terms.push_back({input.key, input.what, by});
    range.rss += by * by;
    range.worst_case += std::abs(by);
  }
  range.rss = std::sqrt(range.rss);
  std::stable_sort(
      range.terms.begin(), range.terms.end(),
      [](const IntervalTerm& a, const IntervalTerm& b) { return std::abs(a.by) > std::abs(b.by); });
  return range;
}

// Loads of the gasket, N/m, when its squeeze is off as in the range; a stiffer gasket also presses
// more at the same squeeze.
std::pair<double, double> load_range(const door::Gasket& gasket, const QoiInterval& range,
                                     const std::vector<AppliedTolerance>& bands)
{
  const double as_is = contact::line_load(gasket, range.found).load;
  double less = 0.0;
  double more = 0.0;
  for (const auto& part : range.terms) {
    double own = 0.0;
    if (part.key == "gasket.curve")
      for (const auto& band : bands)
        own += band.key == part.key ? band.half * as_is : 0.0;
    const double up = contact::line_load(gasket, range.found + part.by).load - as_is + own;
    const double down = contact::line_load(gasket, range.found - part.by).load - as_is - own;
    less += std::pow(std::min({up, down, 0.0}), 2);
    more += std::pow(std::max({up, down, 0.0}), 2);
  }
  return {std::max(0.0, as_is - std::sqrt(less)), as_is + std::sqrt(more)};
}

// The range of a checked quantity: of the drop itself, and of the least load by that of the
// squeeze.
void add_likely(const input::DoorCase& c, const QoiInterval& range, CheckRun& run)
{
  if (range.id.quantity == qoi::Quantity::drop)
    if (verdict::QuantityOfInterest* drop = verdict::find_quantity(run.quantities, range.id))
      drop->likely_range = {std::max(0.0, range.found - range.rss), range.found + range.rss};
  if (range.id.quantity == qoi::Quantity::least_squeeze)
    if (verdict::QuantityOfInterest* load =
            verdict::find_quantity(run.quantities, {range.id.state, qoi::Quantity::gasket_load}))
      load->likely_range = load_range(c.door.gasket, range, run.uncertainty.tolerances);
}

} // namespace

void add_input_uncertainty(const input::DoorCase& door_case, const Progress& progress,
                           CheckRun& run)
{
  const door::Door& door = door_case.door;
  UncertaintyResult& s = run.uncertainty;
  s.inputs = sensitivity::uncertain_inputs(door);
  s.tolerances = bands_of(door_case, s.inputs);
  constexpr int coarsest = 1;
  s.sensitivities = sensitivity::adjoint_sensitivities(door, door::mesh_density(door, coarsest),
                                                       states_of(run), s.inputs, [&](double share) {
                                                         if (progress)
                                                           progress("how sure it is", share);
                                                       });
  for (const auto& one : s.sensitivities)
    s.intervals.push_back(interval_of(run, s, one));
  for (const auto& range : s.intervals)
    add_likely(door_case, range, run);
  run.checks = verdict::evaluate_checks(door_case, run.quantities);
}

} // namespace hangtrue::check
