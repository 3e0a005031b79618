// The part at a point inside the panel.
#pragma once

#include "meshing/door/door.hpp"
#include "meshing/mesh/mesh.hpp"

namespace hangtrue
{

/// Part of the panel at a point, m. The corners of the rim are mitred, so its hollow runs round
/// without a wall.
Part panel_part(const Door& door, double x, double y, double z);

} // namespace hangtrue
