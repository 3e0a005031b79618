// SPDX-License-Identifier: GPL-3.0-or-later
// Whether the lean of a lid is determined: all its loads offset slightly along the hinges.
#pragma once

#include "meshing/door/door.hpp"
#include "meshing/mesh/mesh.hpp"
#include "solver/contact/contact_pairs.hpp"

#include <array>
#include <vector>

namespace hangtrue::system
{
struct DoorSystem;
} // namespace hangtrue::system

namespace hangtrue::error
{

/// Results of a lid or flap with all its loads offset slightly along its hinges.
struct TippedState {
  double drop = 0.0; ///< m, as Deflection::drop
  double lean = 0.0; ///< m, as Deflection::lean
};

/// The same to either side (solver/error/load_offset_check).
struct LoadOffsetResult {
  double shift = 0.0;                 ///< m
  std::array<TippedState, 2> sides{}; ///< towards z = 0 and away from it
};

/// Greatest drop and lean of the open door with all its loads (weight, handle, what holds it open)
/// offset by 1 % of its longest knuckle to either side along the hinge axis: where along a knuckle
/// a pin bears is known no closer on a mesh (docs/mesh-error.md), and where a door has its weight
/// no closer in a shop. With an upright axis this changes little, so it is for lids and flaps.
///
/// Moving the resultant F by s adds the couple s e_z x F (Varignon). The contact is solved anew,
/// since such a door may tip from one edge of its bores to the other.
/// `warm_start` is its active contact (warm start). Throws ComputeError when the contact does not
/// converge.
LoadOffsetResult check_load_offset(const door::Door& door, const mesh::Mesh& mesh,
                                   const system::DoorSystem& system,
                                   const std::vector<contact::ActiveContact>& warm_start);

} // namespace hangtrue::error
