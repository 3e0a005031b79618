// SPDX-License-Identifier: GPL-3.0-or-later
// What a door costs by the prices of its file.
#pragma once

#include "cases/input/door_case.hpp"

namespace hangtrue::compare
{

/// Material of the door and its hinges, with frame halves like door halves and all pins, and the
/// work on each hinge, in the currency of the file. The jamb, welds and paint are not included,
/// since they hardly change from one variant to the next. Throws nothing; 0 without prices.
double door_cost(const input::DoorCase& door_case);

/// Mass of all pins, kg.
double pin_mass(const door::Door& door);

} // namespace hangtrue::compare
