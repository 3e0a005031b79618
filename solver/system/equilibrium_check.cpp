#include "solver/system/equilibrium_check.hpp"

#include "meshing/common/errors.hpp"
#include "solver/contact/contact_response.hpp"
#include "solver/elasticity/nodal_loads.hpp"
#include "solver/system/door_system.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cstddef>

namespace hangtrue
{

Balance check_door_equilibrium(const Door& door, const Mesh& mesh, const Assembly& assembly,
                               const ContactState& state, const ForceScale& scale)
{
  const AxisPlace axis = pin_axis(door, door.hinges.front());
  NodeField on_door = push_forces(assembly.points, state.push, door_body, mesh.door.nodes.size());
  for (std::size_t n = 0; n < on_door.size(); ++n)
    on_door[n] += assembly.bodies[door_body].load[n];
  const Resultant left = resultant(mesh.door, on_door, {axis.x, axis.y, 0.0});
  Balance balance;
  balance.force_error = norm(left.force) / scale.force;
  balance.moment_error = norm(left.moment) / (scale.force * door.panel.width);
  balance.least_gap = state.least_gap;
  balance.least_force = state.least_push;
  constexpr double allowed = 1e-8;
  const double worst = std::max(balance.force_error, balance.moment_error);
  if (!(worst < allowed))
    throw ComputeError(fmt::format("balance: the forces on {} leave {:.1e} of {} over; try another "
                                   "mesh level in [accuracy]",
                                   scale.door, worst, scale.name));
  return balance;
}

} // namespace hangtrue
