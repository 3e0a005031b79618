// SPDX-License-Identifier: GPL-3.0-or-later
// The part at a point inside the panel.
#pragma once

#include "meshing/door/door.hpp"
#include "meshing/mesh/mesh.hpp"

namespace hangtrue::sweep
{

/// Part of the panel at a point, m. The corners of the rim are mitred, so its hollow runs round
/// without a wall.
mesh::Part panel_part(const door::Door& door, double x, double y, double z);

} // namespace hangtrue::sweep
