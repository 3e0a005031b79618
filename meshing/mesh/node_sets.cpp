// SPDX-License-Identifier: GPL-3.0-or-later
#include "meshing/mesh/node_sets.hpp"

#include <algorithm>

namespace hangtrue::mesh
{

std::vector<int> skin_nodes(const BodyMesh& body)
{
  std::vector<int> skin;
  for (const auto& cell : body.cells)
    if (cell.part == Part::outer_skin || cell.part == Part::inner_skin)
      skin.insert(skin.end(), cell.node.begin(), cell.node.end());
  std::sort(skin.begin(), skin.end());
  skin.erase(std::unique(skin.begin(), skin.end()), skin.end());
  return skin;
}

} // namespace hangtrue::mesh
