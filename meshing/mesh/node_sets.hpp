// SPDX-License-Identifier: GPL-3.0-or-later
// Nodes of a body by the part that they belong to.
#pragma once

#include "meshing/mesh/mesh.hpp"

#include <vector>

namespace hangtrue::mesh
{

/// Nodes of both skins.
std::vector<int> skin_nodes(const BodyMesh& body);

} // namespace hangtrue::mesh
