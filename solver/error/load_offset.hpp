// SPDX-License-Identifier: GPL-3.0-or-later
// Whether the answers of a lid are determined: all its loads offset slightly along the hinges.
#pragma once

#include "meshing/door/door.hpp"
#include "meshing/mesh/mesh.hpp"
#include "solver/elasticity/elastic_body.hpp"
#include "solver/system/door_system.hpp"

#include <array>

namespace hangtrue::error
{

/// Offset of the loads, m: 1 % of the longest knuckle. Where along a knuckle a pin bears is known
/// no closer on a mesh (docs/mesh-error.md), and where a door has its weight no closer in a shop.
double load_offset(const door::Door& door);

/// A change of the loads of the door: nodal forces, N, and the displacements, m, by them of the
/// door on its supports.
struct LoadChange {
  elasticity::NodeField load;
  elasticity::NodeField displacement;
};

/// Both ways of two changes.
struct LoadChanges {
  std::array<LoadChange, 2> offset; ///< all loads towards z = 0 and away from it
  std::array<LoadChange, 2> turned; ///< a couple about the direction of gravity
};

/// What changes with all loads of the door (weight, handle, what holds it open) offset by `offset`,
/// m, along the hinge axis, and by a couple of its weight times `offset` that would turn it about
/// the vertical: its weight alone does not resist that. With an upright axis neither matters much,
/// so it is for lids and flaps, open or closed.
///
/// Moving the resultant F by s adds the couple s e_z x F (Varignon).
LoadChanges offset_load_changes(const door::Door& door, const mesh::Mesh& mesh,
                                const system::DoorSystem& system, double offset);

/// Adds `more` to `to`, node by node; both are of one body.
void add(const elasticity::NodeField& more, elasticity::NodeField& to);

} // namespace hangtrue::error
