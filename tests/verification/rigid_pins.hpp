// SPDX-License-Identifier: GPL-3.0-or-later
// Where a rigid door comes to rest on rigid pins in bores with play: two independent solutions.
#pragma once

#include "meshing/common/vec3.hpp"
#include "meshing/door/door.hpp"

namespace hangtrue::test
{

/// Position of the door relative to its nominal one; the swing itself is left out.
struct RigidSolution {
  double drop = 0.0;     ///< m, of the outer latch corners along gravity (the same for both)
  double lean = 0.0;     ///< m, of the upper latch corner away from the hinges against the lower
  double set_back = 0.0; ///< m, of the upper latch corner outwards against the lower
  double spread = 0.0;   ///< m, between the least and the greatest drop of equally low positions
};

/// Closed form for a side-hung door whose hinges are the same, each with the same owner's knuckles
/// at both of its ends, the lowest hinge carrying. `centre` is the centre of gravity, m.
///
/// Derivation. c is the radial clearance. A door knuckle may be c off the pin, and a pin c off its
/// frame knuckles (a fixed pin: not at all), so every point of a bore of the door stays within n c
/// of the nominal axis, n = 2 floating, 1 fixed:
///
///         | o |  <- upper end of the highest door knuckle: n c out
///         |   |
///         |   |  H  = spacing of the outermost hinges + length of a door knuckle
///         |   |
///         | o |  <- lower end of the lowest door knuckle: n c in
///
/// The door lowers its weight most by leaning in the plane that contains the axis and its centre of
/// gravity (direction e), until both ends have used up their play: lean per height theta = 2 n c /
/// H. It then rests on the edge, at outside radius R, of the lowest carrying thrust face on the
/// side of e, so a point at r from the axis has dropped by theta (e . r - R). Where a floating pin
/// has door knuckles at its ends, door and frame swap roles, and H is to the ends of the frame's
/// knuckles.
RigidSolution rigid_formula(const door::Door& door, const Vec3& centre);

/// Least potential energy over all positions that the clearances allow, for any side-hung door: any
/// number of hinges and knuckles, clearances that differ, any hinge carrying. Small displacements;
/// unknowns are three translations and two rotations of the door and two translations and two
/// rotations of every floating pin. Contact is checked at both ends of every knuckle (a straight
/// pin in a straight bore touches nowhere else first) in `directions` directions round the axis,
/// one of them towards the centre of gravity, so play is at most 1 / cos(pi / directions) too
/// large. A linear programme, solved by the simplex method (Dantzig; Bland's rule), dense and
/// plain.
RigidSolution rigid_search(const door::Door& door, const Vec3& centre, int directions = 72);

} // namespace hangtrue::test
