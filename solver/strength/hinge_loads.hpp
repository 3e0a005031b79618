// SPDX-License-Identifier: GPL-3.0-or-later
// Forces of the hinges of a door in one state, open or closed: knuckles, leaves and pins.
#pragma once

#include "meshing/door/door.hpp"
#include "meshing/mesh/mesh.hpp"
#include "solver/strength/hinge_forces.hpp"
#include "solver/strength/pin_section_forces.hpp"
#include "solver/system/door_system.hpp"

#include <vector>

namespace hangtrue::strength
{

/// Forces at all hinges in one state.
struct HingeLoads {
  std::vector<KnuckleForce> knuckles;
  std::vector<LeafForces> leaves; ///< of the frame in its own directions, as if closed
  std::vector<PinForces> pins;
};

/// From the contact forces, N, at the pairs of the system and the displacements, m, of the frame
/// and of the floating pins; that of the frame may be empty where no pin is part of it. `door` has
/// the swing of the mesh: it turns the frame's leaves back.
HingeLoads hinge_loads(const door::Door& door, const mesh::Mesh& mesh,
                       const system::DoorSystem& system, const std::vector<double>& contact_force,
                       const elasticity::NodeField& frame_displacement,
                       const std::vector<elasticity::NodeField>& pin_displacements);

} // namespace hangtrue::strength
