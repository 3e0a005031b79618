// How drawings write lengths and forces in the user's units.
#pragma once

#include "cases/input/door_case.hpp"
#include "viz/figures/elevation_svg.hpp"

namespace hangtrue
{

/// Lengths and forces of a drawing in these units.
DrawingWords words_in(Units units);

} // namespace hangtrue
