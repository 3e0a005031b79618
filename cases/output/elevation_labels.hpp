// SPDX-License-Identifier: GPL-3.0-or-later
// How drawings write lengths and forces in the user's units.
#pragma once

#include "cases/input/door_case.hpp"
#include "viz/figures/elevation_svg.hpp"

namespace hangtrue::output
{

/// Lengths and forces of a drawing in these units.
figures::ElevationFormatter elevation_formatter(input::UnitSystem units);

} // namespace hangtrue::output
