// SPDX-License-Identifier: GPL-3.0-or-later
#include "solver/system/equilibrium_check.hpp"

#include "meshing/common/errors.hpp"
#include "solver/contact/contact_response.hpp"
#include "solver/elasticity/nodal_loads.hpp"
#include "solver/system/door_system.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cstddef>

namespace hangtrue::system
{

EquilibriumCheck check_door_equilibrium(const door::Door& door, const mesh::Mesh& mesh,
                                        const DoorSystem& system,
                                        const contact::ContactState& state, const ForceScale& scale)
{
  const door::AxisPosition axis = door::pin_axis(door, door.hinges.front());
  elasticity::NodeField on_door = contact::contact_nodal_forces(
      system.pairs, state.contact_force, contact::door_body, mesh.door.nodes.size());
  for (std::size_t n = 0; n < on_door.size(); ++n)
    on_door[n] += system.bodies[contact::door_body].load[n];
  const elasticity::Resultant left =
      elasticity::resultant(mesh.door, on_door, {axis.x, axis.y, 0.0});
  EquilibriumCheck balance;
  balance.force_error = norm(left.force) / scale.force;
  balance.moment_error = norm(left.moment) / (scale.force * door.panel.width);
  balance.min_gap = state.min_gap;
  balance.min_contact_force = state.min_contact_force;
  constexpr double allowed = 1e-8;
  const double worst = std::max(balance.force_error, balance.moment_error);
  if (!(worst < allowed))
    throw ComputeError(fmt::format("balance: the forces on {} leave {:.1e} of {} over; try another "
                                   "mesh level in [accuracy]",
                                   scale.door, worst, scale.name));
  return balance;
}

} // namespace hangtrue::system
