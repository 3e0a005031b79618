// SPDX-License-Identifier: GPL-3.0-or-later
#include "meshing/sweep/swept_body.hpp"

#include <utility>

namespace hangtrue::sweep
{

namespace
{

std::vector<double> planes(const section::GridLines& z)
{
  std::vector<double> all{z.front()};
  for (std::size_t i = 0; i + 1 < z.size(); ++i) {
    all.push_back(0.5 * (z[i] + z[i + 1]));
    all.push_back(z[i + 1]);
  }
  return all;
}

// Section node that represents a foot node on each plane: itself, or the face's where welded.
std::vector<std::vector<int>> stand_ins(const section::Section& section,
                                        const std::vector<double>& plane, const IsWelded& is_welded)
{
  std::vector<std::vector<int>> stand_in(section.mesh.nodes.size());
  for (const auto& foot : section.feet) {
    auto& row = stand_in[foot.foot];
    row.assign(plane.size(), foot.foot);
    for (std::size_t p = 0; p < plane.size(); ++p)
      if (is_welded(foot, plane[p]))
        row[p] = foot.face;
  }
  return stand_in;
}

} // namespace

SweptBody sweep_body(const std::string& name, section::Section section, const section::GridLines& z,
                     const AssignCell& plan, const IsWelded& is_welded)
{
  SweptBody result;
  result.body.name = name;
  result.plane = planes(z);
  result.node.assign(section.mesh.nodes.size(), std::vector<int>(result.plane.size(), -1));
  const auto stand_in = stand_ins(section, result.plane, is_welded);

  auto node_at = [&](int s, std::size_t p) {
    const int real = stand_in[s].empty() ? s : stand_in[s][p];
    int& index = result.node[real][p];
    if (index < 0) {
      index = static_cast<int>(result.body.nodes.size());
      const section::PlanePoint& at = section.mesh.nodes[real];
      result.body.nodes.push_back({at.x, at.y, result.plane[p]});
    }
    result.node[s][p] = index;
    return index;
  };

  for (std::size_t i = 0; i + 1 < z.size(); ++i) {
    const double middle = 0.5 * (z[i] + z[i + 1]);
    for (const auto& quad : section.mesh.quads) {
      const auto cell = plan(section.patches[quad.label], middle);
      if (!cell)
        continue;
      mesh::Hex27 hex;
      hex.part = cell->part;
      hex.hinge = cell->hinge;
      hex.knuckle = cell->knuckle;
      for (std::size_t k = 0; k < 3; ++k)
        for (std::size_t n = 0; n < 9; ++n)
          hex.node[n + 9 * k] = node_at(quad.node[n], 2 * i + k);
      result.body.cells.push_back(hex);
    }
  }
  result.section = std::move(section);
  return result;
}

} // namespace hangtrue::sweep
