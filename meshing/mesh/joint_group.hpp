// SPDX-License-Identifier: GPL-3.0-or-later
// Groups of cells that are joined wherever they touch; welds join the groups with each other.
#pragma once

#include "meshing/mesh/mesh.hpp"

#include <vector>

namespace hangtrue::mesh
{

/// Group of every cell of a body, from 0. Two cells of one group that share the corners of a side
/// or an edge share all of its nodes; cells of different groups may be welded at some of them only.
/// Groups are the panel or the jamb, a hinge, an inner skin that is not welded all round, and the
/// farther half of a split one.
std::vector<int> joint_groups(const BodyMesh& body);

} // namespace hangtrue::mesh
