// What a mesh must contain of a door's parts and welds, by plain formulas.
#pragma once

#include "meshing/door/door.hpp"
#include "meshing/mesh/mesh.hpp"

#include <map>

namespace hangtrue
{

/// Volumes of the parts that have plain formulas, m^3, between the stations that the drawn places
/// were made one with; as drawn where there are no stations.
/// Throws ComputeError when a place has no station within the snap distance.
std::map<Part, double> part_volumes(const Door& door, const Stations& stations);

/// Area of all welds between the leaves of one owner and its face, m^2. Stations and throw as
/// above.
double weld_area(const Door& door, Owner owner, const Stations& stations);

} // namespace hangtrue
