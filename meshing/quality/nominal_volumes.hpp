// SPDX-License-Identifier: GPL-3.0-or-later
// Volumes and weld areas that a mesh of a door must have, by closed formulas.
#pragma once

#include "meshing/door/door.hpp"
#include "meshing/mesh/mesh.hpp"

#include <map>

namespace hangtrue::quality
{

/// Volumes of the parts that have closed formulas, m^3, between the grid planes that the nominal
/// positions were snapped to; nominal where there are no grid planes.
/// Throws ComputeError when a position has no grid plane within the snap distance.
std::map<mesh::Part, double> part_volumes(const door::Door& door, const mesh::GridPlanes& stations);

/// Area of all welds between the leaves of one owner and its face, m^2. Grid planes and exceptions
/// as above.
double weld_area(const door::Door& door, door::KnuckleOwner owner,
                 const mesh::GridPlanes& stations);

} // namespace hangtrue::quality
