// The inner skin let go: nodes that skin and rim share are parted where no weld joins them.
#pragma once

#include "meshing/door/door.hpp"
#include "meshing/mesh/mesh.hpp"

#include <vector>

namespace hangtrue
{

/// Parts the nodes of the inner skin from what lies behind it wherever the door's hold leaves it
/// loose, and along the cut of a split skin; fills `twins`.
void let_go(const Door& door, BodyMesh& body);

/// Where a loose skin is kept from lifting: twins of `body` by index.
std::vector<int> kept_twins(const Door& door, const BodyMesh& body);

/// Twins over the edges of the rim and over the stiffeners, where a loose skin can rest.
std::vector<int> resting_twins(const Door& door, const BodyMesh& body);

} // namespace hangtrue
