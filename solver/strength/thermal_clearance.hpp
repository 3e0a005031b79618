// What heat leaves of the play in the bores, by closed form from the temperatures.
#pragma once

#include "meshing/door/door.hpp"
#include "solver/analysis/open_result.hpp"

#include <vector>

namespace hangtrue
{

/// Diametral play left in the bores, d (e_knuckle - e_pin) added to the drawn one for the tighter
/// of door and frame knuckles; e is the steel's elongation. Plain geometry.
std::vector<HotFit> hot_fits(const Door& door, const Warmth& warmth);

} // namespace hangtrue
