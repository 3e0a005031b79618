// SPDX-License-Identifier: GPL-3.0-or-later
// Latches by their mechanism: where they pull, the force at the handle, whether they are
// self-locking.
#pragma once

#include "meshing/common/vec3.hpp"
#include "meshing/door/door.hpp"

namespace hangtrue::contact
{

/// Latches that pull less than this apart, m, are at one position: rounding of a file's numbers.
inline constexpr double same_latch_place = 1e-9;

/// Where a latch pulls on the outer face, m.
Vec3 latch_place(const door::Door& door, const door::Latch& latch);

/// Force of the hand at the lever, N, that draws the latch home against a force on it, N. Wedge,
/// bevel and cam climb their lead with friction: F tan(lead + atan(friction)) arm / lever (inclined
/// plane; any text on statics). An over-centre latch at its widest: F arm / lever.
double lever_hand_force(const door::Latch& latch, double force);

/// A wedge, bevel or cam stays where it is left when its lead is less than the angle of friction;
/// an over-centre latch always does.
bool is_self_locking(const door::Latch& latch);

} // namespace hangtrue::contact
