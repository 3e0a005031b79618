#include "solver/firing/firing_replay.hpp"

#include "solver/heat/fire_schedule.hpp"

#include <algorithm>
#include <cmath>
#include <utility>

namespace hangtrue
{

namespace
{

WarmDoor as_state(const Door& door, const BodyMesh& body, const ThermalStateId& wanted,
                  const Temperatures& t)
{
  WarmDoor made = state_at(door, body, wanted, t.at, t.imbalance);
  if (door.fire.measured.given)
    made.warmth.gas = door.fire.measured.inner;
  return made;
}

Temperatures steady(const Door& door, const HeatSolver& solver)
{
  if (door.fire.measured.given)
    return solver.steady(0.0, door.fire.ambient);
  const double hottest = hottest_time(door.fire);
  return solver.steady(hottest, 0.5 * (door.fire.ambient + gas_at(door.fire, hottest)));
}

} // namespace

std::vector<WarmDoor> heat_again(const Door& door, const BodyMesh& body,
                                 const std::vector<ThermalStateId>& wanted,
                                 const std::function<void(double share)>& told)
{
  const HeatSolver solver(door_heat_problem(door, body));
  std::vector<WarmDoor> made(wanted.size());
  double last = -1.0;
  std::vector<double> breaks;
  for (const auto& point : door.fire.schedule)
    breaks.push_back(point.time);
  for (std::size_t i = 0; i < wanted.size(); ++i) {
    if (is_steady(wanted[i])) {
      made[i] = as_state(door, body, wanted[i], steady(door, solver));
      continue;
    }
    breaks.push_back(wanted[i].time);
    last = std::max(last, wanted[i].time);
  }
  if (last < 0.0)
    return made;
  breaks.erase(std::remove_if(breaks.begin(), breaks.end(), [&](double t) { return t > last; }),
               breaks.end());
  const double start = door.fire.schedule.front().time;
  const std::vector<double> cold(body.nodes.size(), door.fire.ambient);
  // The error of the time integration is proportional to the tolerance: at twice that of `warm_up`
  // the change between both is that error of `warm_up`, besides that of the mesh (Richardson 1927).
  constexpr double tolerance = 2.0 * warm_up_tolerance;
  solver.transient(cold, start, last, tolerance, breaks, [&](double time, const Temperatures& t) {
    for (std::size_t i = 0; i < wanted.size(); ++i)
      if (!is_steady(wanted[i]) && std::abs(time - wanted[i].time) < 1e-6 * (1.0 + time))
        made[i] = as_state(door, body, wanted[i], t);
    if (told)
      told(time / last);
  });
  return made;
}

} // namespace hangtrue
