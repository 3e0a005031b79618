// SPDX-License-Identifier: GPL-3.0-or-later
#include "solver/firing/firing_replay.hpp"

#include "solver/heat/fire_schedule.hpp"

#include <algorithm>
#include <cmath>
#include <utility>

namespace hangtrue::firing
{

namespace
{

heat::ThermalState as_state(const door::Door& door, const fe::Discretization& space,
                            const heat::ThermalStateId& requested, const heat::TemperatureField& t)
{
  heat::ThermalState result = thermal_state_at(door, space, requested, t.value, t.imbalance);
  if (door.fire.measured.given)
    result.summary.gas = door.fire.measured.inner;
  return result;
}

heat::TemperatureField steady(const door::Door& door, const heat::HeatSolver& solver)
{
  if (door.fire.measured.given)
    return solver.steady(0.0, door.fire.ambient);
  const double hottest = heat::hottest_time(door.fire);
  return solver.steady(hottest, 0.5 * (door.fire.ambient + heat::gas_at(door.fire, hottest)));
}

} // namespace

std::vector<heat::ThermalState> replay_states(const door::Door& door, const mesh::BodyMesh& body,
                                              const std::vector<heat::ThermalStateId>& requested,
                                              const std::function<void(double share)>& report)
{
  const fe::Discretization space(body);
  const heat::HeatSolver solver(heat::door_heat_problem(door, space));
  std::vector<heat::ThermalState> result(requested.size());
  double last = -1.0;
  std::vector<double> breaks;
  for (const auto& point : door.fire.schedule)
    breaks.push_back(point.time);
  for (std::size_t i = 0; i < requested.size(); ++i) {
    if (heat::is_steady(requested[i])) {
      result[i] = as_state(door, space, requested[i], steady(door, solver));
      continue;
    }
    breaks.push_back(requested[i].time);
    last = std::max(last, requested[i].time);
  }
  if (last < 0.0)
    return result;
  breaks.erase(std::remove_if(breaks.begin(), breaks.end(), [&](double t) { return t > last; }),
               breaks.end());
  const double start = door.fire.schedule.front().time;
  const std::vector<double> cold(body.nodes.size(), door.fire.ambient);
  // The error of the time integration is proportional to the tolerance: at twice that of `warm_up`
  // the change between both is that error of `warm_up`, besides that of the mesh (Richardson 1927).
  constexpr double tolerance = 2.0 * heat::warm_up_tolerance;
  solver.transient(cold, start, last, tolerance, breaks,
                   [&](double time, const heat::TemperatureField& t) {
                     for (std::size_t i = 0; i < requested.size(); ++i)
                       if (!heat::is_steady(requested[i]) &&
                           std::abs(time - requested[i].time) < 1e-6 * (1.0 + time))
                         result[i] = as_state(door, space, requested[i], t);
                     if (report)
                       report(time / last);
                   });
  return result;
}

} // namespace hangtrue::firing
