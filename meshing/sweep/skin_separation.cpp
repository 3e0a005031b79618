// SPDX-License-Identifier: GPL-3.0-or-later
#include "meshing/sweep/skin_separation.hpp"

#include "meshing/section/grid_planes.hpp"
#include "meshing/section/skin_welds.hpp"

#include <algorithm>
#include <cmath>
#include <set>
#include <unordered_map>

namespace hangtrue::sweep
{

namespace
{

constexpr double same_place = 1e-7; // m

bool in_stitch(const door::InnerSkinAttachment& hold, double length, double position)
{
  const auto middles = section::stitch_middles(hold, length);
  return std::any_of(middles.begin(), middles.end(), [&](double m) {
    return std::abs(position - m) < 0.5 * hold.stitch + section::snap_distance;
  });
}

double from_edge(const door::Door& door, const Vec3& p)
{
  return std::min({p.x, door.panel.width - p.x, p.z, door.panel.height - p.z});
}

// Stitches join the skin to the outer wall of the rim.
bool stitched(const door::Door& door, const Vec3& p)
{
  const double wall = door.rim.wall + section::snap_distance;
  const bool on_level = p.z < wall || p.z > door.panel.height - wall;
  const bool on_upright = p.x < wall || p.x > door.panel.width - wall;
  return (on_level && in_stitch(door.inner_hold, door.panel.width, p.x)) ||
         (on_upright && in_stitch(door.inner_hold, door.panel.height, p.z));
}

bool anchored(const door::Door& door, const Vec3& p)
{
  return p.z < door.rim.wall + section::snap_distance &&
         std::abs(p.x - 0.5 * door.panel.width) <
             0.5 * door.inner_hold.stitch + section::snap_distance;
}

bool joined(const door::Door& door, const Vec3& p)
{
  switch (door.inner_hold.kind) {
  case door::SkinRelease::stitched:
    return stitched(door, p);
  case door::SkinRelease::floating:
    return anchored(door, p);
  default:
    return true;
  }
}

bool carries(mesh::Part part)
{
  return part != mesh::Part::insulation && part != mesh::Part::hollow;
}

// Gives the selected cells nodes of their own in place of `parted`.
template <typename Wanted>
void part_nodes(mesh::BodyMesh& body, const std::set<int>& parted, bool cut, const Wanted& include)
{
  std::unordered_map<int, int> own;
  for (auto& cell : body.cells) {
    if (!include(cell))
      continue;
    for (int& n : cell.node) {
      if (parted.count(n) == 0)
        continue;
      const auto [at, fresh] = own.try_emplace(n, static_cast<int>(body.nodes.size()));
      if (fresh) {
        body.twins.push_back({at->second, n, cut});
        body.nodes.push_back(body.nodes[n]);
      }
      n = at->second;
    }
  }
}

// Nodes that skin and steel (or strip) behind it share without being joined.
std::set<int> loose_nodes(const door::Door& door, const mesh::BodyMesh& body)
{
  std::vector<char> skin(body.nodes.size(), 0);
  std::vector<char> behind(body.nodes.size(), 0);
  for (const auto& cell : body.cells)
    for (const int n : cell.node)
      if (cell.part == mesh::Part::inner_skin)
        skin[n] = 1;
      else if (carries(cell.part))
        behind[n] = 1;
  std::set<int> loose;
  for (std::size_t n = 0; n < body.nodes.size(); ++n)
    if (skin[n] != 0 && behind[n] != 0 && !joined(door, body.nodes[n]))
      loose.insert(static_cast<int>(n));
  return loose;
}

// Nodes on the cut that nothing behind the skin supports.
std::set<int> cut_nodes(const mesh::BodyMesh& body, double position)
{
  std::vector<char> behind(body.nodes.size(), 0);
  std::set<int> cut;
  for (const auto& cell : body.cells)
    if (cell.part != mesh::Part::inner_skin && carries(cell.part))
      for (const int n : cell.node)
        behind[n] = 1;
  for (const auto& cell : body.cells)
    if (cell.part == mesh::Part::inner_skin)
      for (const int n : cell.node)
        if (behind[n] == 0 && std::abs(body.nodes[n].x - position) < same_place)
          cut.insert(n);
  return cut;
}

void cut_skin(const door::Door& door, mesh::BodyMesh& body)
{
  double position = body.nodes[body.cells.front().node[0]].x;
  for (const auto& cell : body.cells)
    if (cell.part == mesh::Part::inner_skin)
      for (const int n : {cell.node[0], cell.node[2]})
        if (std::abs(body.nodes[n].x - door.inner_hold.split_at) <
            std::abs(position - door.inner_hold.split_at))
          position = body.nodes[n].x;
  part_nodes(body, cut_nodes(body, position), true, [&](const mesh::Hex27& cell) {
    return cell.part == mesh::Part::inner_skin && body.nodes[cell.node[13]].x > position;
  });
}

} // namespace

void release_skin(const door::Door& door, mesh::BodyMesh& body)
{
  const door::SkinRelease kind = door.inner_hold.kind;
  if (kind == door::SkinRelease::stitched || kind == door::SkinRelease::floating)
    part_nodes(body, loose_nodes(door, body), false,
               [](const mesh::Hex27& cell) { return cell.part == mesh::Part::inner_skin; });
  if (kind == door::SkinRelease::split)
    cut_skin(door, body);
}

std::vector<int> clipped_pairs(const door::Door& door, const mesh::BodyMesh& body)
{
  const door::InnerSkinAttachment& hold = door.inner_hold;
  if (hold.kind == door::SkinRelease::welded || hold.kind == door::SkinRelease::split)
    return {};
  const double w = door.panel.width;
  const double h = door.panel.height;
  std::vector<int> edge;
  for (std::size_t t = 0; t < body.twins.size(); ++t)
    if (std::abs(from_edge(door, body.nodes[body.twins[t].skin])) < same_place)
      edge.push_back(static_cast<int>(t));
  std::set<int> cache;
  if (hold.keep == door::LiftRestraint::lip) {
    for (std::size_t e = 0; e < edge.size(); e += 2) // the others rest: one pair cannot do both
      cache.insert(edge[e]);
    return {cache.begin(), cache.end()};
  }
  for (int c = 0; c < hold.clips; ++c) {
    const double share = (c + 0.5) / hold.clips;
    for (const Vec3& place :
         {Vec3{share * w, door.panel.inner_skin, 0.0}, Vec3{share * w, door.panel.inner_skin, h},
          Vec3{0.0, door.panel.inner_skin, share * h}, Vec3{w, door.panel.inner_skin, share * h}})
      if (!edge.empty())
        cache.insert(*std::min_element(edge.begin(), edge.end(), [&](int a, int b) {
          return norm(body.nodes[body.twins[a].skin] - place) <
                 norm(body.nodes[body.twins[b].skin] - place);
        }));
  }
  return {cache.begin(), cache.end()};
}

std::vector<int> bearing_pairs(const door::Door& door, const mesh::BodyMesh& body)
{
  std::vector<int> resting;
  const std::vector<int> cache = clipped_pairs(door, body); // rising
  const double near = section::snap_distance;
  for (std::size_t t = 0; t < body.twins.size(); ++t) {
    if (body.twins[t].cut || std::binary_search(cache.begin(), cache.end(), static_cast<int>(t)))
      continue;
    const double inwards = from_edge(door, body.nodes[body.twins[t].skin]);
    const bool on_rim = inwards < door.rim.width + near;
    const bool on_line = inwards < same_place || inwards > door.rim.width - near;
    if (!on_rim || on_line)
      resting.push_back(static_cast<int>(t));
  }
  return resting;
}

} // namespace hangtrue::sweep
