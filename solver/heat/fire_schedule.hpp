// SPDX-License-Identifier: GPL-3.0-or-later
// The gas of a fire by its schedule.
#pragma once

#include "meshing/door/door.hpp"

namespace hangtrue::heat
{

/// Gas temperature, degC, at a time, s: linear between points, constant after the last.
double gas_at(const door::Fire& fire, double time);

/// Time at which the schedule is hottest, s.
double hottest_time(const door::Fire& fire);

} // namespace hangtrue::heat
