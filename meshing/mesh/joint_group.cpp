// SPDX-License-Identifier: GPL-3.0-or-later
#include "meshing/mesh/joint_group.hpp"

#include <algorithm>

namespace hangtrue::mesh
{

std::vector<int> joint_groups(const BodyMesh& body)
{
  const auto cut = std::find_if(body.twins.begin(), body.twins.end(),
                                [](const DuplicateNode& twin) { return twin.cut; });
  const bool is_split = cut != body.twins.end();
  const double split_at = is_split ? body.nodes[cut->skin].x : 0.0; // m
  std::vector<int> result;
  result.reserve(body.cells.size());
  for (const auto& cell : body.cells) {
    if (cell.hinge >= 0)
      result.push_back(3 + cell.hinge);
    else if (body.twins.empty() || cell.part != Part::inner_skin)
      result.push_back(0);
    else
      result.push_back(is_split && body.nodes[cell.node[13]].x > split_at ? 2 : 1);
  }
  return result;
}

} // namespace hangtrue::mesh
