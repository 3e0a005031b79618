// Separation of the inner skin: nodes of skin and rim are duplicated where no weld joins them.
#pragma once

#include "meshing/door/door.hpp"
#include "meshing/mesh/mesh.hpp"

#include <vector>

namespace hangtrue
{

/// Duplicates the nodes of the inner skin wherever its attachment leaves it loose from what lies
/// behind it, and along the cut of a split skin; fills `twins`.
void let_go(const Door& door, BodyMesh& body);

/// Where a loose skin is prevented from lifting: pairs of duplicate nodes of `body` by index.
std::vector<int> kept_twins(const Door& door, const BodyMesh& body);

/// Duplicate nodes over the edges of the rim and over the stiffeners, where a loose skin can rest.
std::vector<int> resting_twins(const Door& door, const BodyMesh& body);

} // namespace hangtrue
