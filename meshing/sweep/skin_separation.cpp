#include "meshing/sweep/skin_separation.hpp"

#include "meshing/section/grid_planes.hpp"
#include "meshing/section/skin_welds.hpp"

#include <algorithm>
#include <cmath>
#include <set>
#include <unordered_map>

namespace hangtrue
{

namespace
{

constexpr double same_place = 1e-7; // m

bool in_stitch(const InnerHold& hold, double length, double at)
{
  const auto middles = stitch_middles(hold, length);
  return std::any_of(middles.begin(), middles.end(), [&](double m) {
    return std::abs(at - m) < 0.5 * hold.stitch + snap_distance;
  });
}

double from_edge(const Door& door, const Vec3& p)
{
  return std::min({p.x, door.panel.width - p.x, p.z, door.panel.height - p.z});
}

// Stitches join the skin to the outer wall of the rim.
bool stitched(const Door& door, const Vec3& p)
{
  const double wall = door.rim.wall + snap_distance;
  const bool on_level = p.z < wall || p.z > door.panel.height - wall;
  const bool on_upright = p.x < wall || p.x > door.panel.width - wall;
  return (on_level && in_stitch(door.inner_hold, door.panel.width, p.x)) ||
         (on_upright && in_stitch(door.inner_hold, door.panel.height, p.z));
}

bool anchored(const Door& door, const Vec3& p)
{
  return p.z < door.rim.wall + snap_distance &&
         std::abs(p.x - 0.5 * door.panel.width) < 0.5 * door.inner_hold.stitch + snap_distance;
}

bool joined(const Door& door, const Vec3& p)
{
  switch (door.inner_hold.kind) {
  case SkinHold::stitched:
    return stitched(door, p);
  case SkinHold::floating:
    return anchored(door, p);
  default:
    return true;
  }
}

bool carries(Part part)
{
  return part != Part::insulation && part != Part::hollow;
}

// Gives the selected cells nodes of their own in place of `parted`.
template <typename Wanted>
void part_nodes(BodyMesh& body, const std::set<int>& parted, bool cut, const Wanted& wanted)
{
  std::unordered_map<int, int> own;
  for (auto& cell : body.cells) {
    if (!wanted(cell))
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
std::set<int> loose_nodes(const Door& door, const BodyMesh& body)
{
  std::vector<char> skin(body.nodes.size(), 0);
  std::vector<char> behind(body.nodes.size(), 0);
  for (const auto& cell : body.cells)
    for (const int n : cell.node)
      if (cell.part == Part::inner_skin)
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
std::set<int> cut_nodes(const BodyMesh& body, double at)
{
  std::vector<char> behind(body.nodes.size(), 0);
  std::set<int> cut;
  for (const auto& cell : body.cells)
    if (cell.part != Part::inner_skin && carries(cell.part))
      for (const int n : cell.node)
        behind[n] = 1;
  for (const auto& cell : body.cells)
    if (cell.part == Part::inner_skin)
      for (const int n : cell.node)
        if (behind[n] == 0 && std::abs(body.nodes[n].x - at) < same_place)
          cut.insert(n);
  return cut;
}

void cut_skin(const Door& door, BodyMesh& body)
{
  double at = body.nodes[body.cells.front().node[0]].x;
  for (const auto& cell : body.cells)
    if (cell.part == Part::inner_skin)
      for (const int n : {cell.node[0], cell.node[2]})
        if (std::abs(body.nodes[n].x - door.inner_hold.split_at) <
            std::abs(at - door.inner_hold.split_at))
          at = body.nodes[n].x;
  part_nodes(body, cut_nodes(body, at), true, [&](const Hex& cell) {
    return cell.part == Part::inner_skin && body.nodes[cell.node[13]].x > at;
  });
}

} // namespace

void let_go(const Door& door, BodyMesh& body)
{
  const SkinHold kind = door.inner_hold.kind;
  if (kind == SkinHold::stitched || kind == SkinHold::floating)
    part_nodes(body, loose_nodes(door, body), false,
               [](const Hex& cell) { return cell.part == Part::inner_skin; });
  if (kind == SkinHold::split)
    cut_skin(door, body);
}

std::vector<int> kept_twins(const Door& door, const BodyMesh& body)
{
  const InnerHold& hold = door.inner_hold;
  if (hold.kind == SkinHold::welded || hold.kind == SkinHold::split)
    return {};
  const double w = door.panel.width;
  const double h = door.panel.height;
  std::vector<int> edge;
  for (std::size_t t = 0; t < body.twins.size(); ++t)
    if (std::abs(from_edge(door, body.nodes[body.twins[t].skin])) < same_place)
      edge.push_back(static_cast<int>(t));
  std::set<int> kept;
  if (hold.keep == SkinKeep::lip) {
    for (std::size_t e = 0; e < edge.size(); e += 2) // the others rest: one pair cannot do both
      kept.insert(edge[e]);
    return {kept.begin(), kept.end()};
  }
  for (int c = 0; c < hold.clips; ++c) {
    const double share = (c + 0.5) / hold.clips;
    for (const Vec3& place :
         {Vec3{share * w, door.panel.inner_skin, 0.0}, Vec3{share * w, door.panel.inner_skin, h},
          Vec3{0.0, door.panel.inner_skin, share * h}, Vec3{w, door.panel.inner_skin, share * h}})
      if (!edge.empty())
        kept.insert(*std::min_element(edge.begin(), edge.end(), [&](int a, int b) {
          return norm(body.nodes[body.twins[a].skin] - place) <
                 norm(body.nodes[body.twins[b].skin] - place);
        }));
  }
  return {kept.begin(), kept.end()};
}

std::vector<int> resting_twins(const Door& door, const BodyMesh& body)
{
  std::vector<int> resting;
  const std::vector<int> kept = kept_twins(door, body); // rising
  const double near = snap_distance;
  for (std::size_t t = 0; t < body.twins.size(); ++t) {
    if (body.twins[t].cut || std::binary_search(kept.begin(), kept.end(), static_cast<int>(t)))
      continue;
    const double inwards = from_edge(door, body.nodes[body.twins[t].skin]);
    const bool on_rim = inwards < door.rim.width + near;
    const bool on_line = inwards < same_place || inwards > door.rim.width - near;
    if (!on_rim || on_line)
      resting.push_back(static_cast<int>(t));
  }
  return resting;
}

} // namespace hangtrue
