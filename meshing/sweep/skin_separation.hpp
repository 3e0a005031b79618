// SPDX-License-Identifier: GPL-3.0-or-later
// Separation of the inner skin: nodes of skin and rim are duplicated where no weld joins them.
#pragma once

#include "meshing/door/door.hpp"
#include "meshing/mesh/mesh.hpp"

#include <vector>

namespace hangtrue::sweep
{

/// Duplicates the nodes of the inner skin wherever its attachment leaves it loose from what lies
/// behind it, and along the cut of a split skin; fills `twins`.
void release_skin(const door::Door& door, mesh::BodyMesh& body);

/// Where a loose skin is prevented from lifting: pairs of duplicate nodes of `body` by index.
std::vector<int> clipped_pairs(const door::Door& door, const mesh::BodyMesh& body);

/// Duplicate nodes over the edges of the rim and over the stiffeners, where a loose skin can rest.
std::vector<int> bearing_pairs(const door::Door& door, const mesh::BodyMesh& body);

} // namespace hangtrue::sweep
