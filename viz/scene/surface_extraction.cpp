// SPDX-License-Identifier: GPL-3.0-or-later
#include "viz/scene/surface_extraction.hpp"

#include <algorithm>
#include <cmath>
#include <map>
#include <unordered_map>
#include <utility>

namespace hangtrue::scene
{

namespace
{

// The nine nodes of each side, in rows, with the outward normal by the right hand.
std::array<std::array<int, 9>, 6> side_nodes()
{
  std::array<std::array<int, 9>, 6> sides{};
  for (int side = 0; side < 6; ++side) {
    const int axis = side / 2;
    const bool far = side % 2 == 1;
    const std::array<int, 3> step{1, 3, 9};
    int u = step[(axis + 1) % 3];
    int v = step[(axis + 2) % 3];
    if (!far)
      std::swap(u, v);
    for (int j = 0; j < 3; ++j)
      for (int i = 0; i < 3; ++i)
        sides[side][i + 3 * j] = (far ? 2 : 0) * step[axis] + i * u + j * v;
  }
  return sides;
}

// Corners of the side, in rising order, as its name.
std::array<int, 4> side_name(const mesh::Hex27& cell, const std::array<int, 9>& side)
{
  std::array<int, 4> name{cell.node[side[0]], cell.node[side[2]], cell.node[side[6]],
                          cell.node[side[8]]};
  std::sort(name.begin(), name.end());
  return name;
}

Vec3 normal_of(const std::vector<Vec3>& positions, const std::vector<int>& piece)
{
  Vec3 sum;
  for (std::size_t i = 2; i < piece.size(); ++i)
    sum += cross(positions[piece[i - 1]] - positions[piece[0]],
                 positions[piece[i]] - positions[piece[0]]);
  const double l = norm(sum);
  return l > 0.0 ? (1.0 / l) * sum : sum;
}

struct AtEdge {
  int count = 0;
  int first = -1;
  bool sharp = false;
};

// Edges by what lies on their two sides; `flat` facets (of a cut) have no angles.
void find_edges(Surface& s, const std::vector<Vec3>& positions)
{
  std::map<std::pair<int, int>, AtEdge> all;
  const double bent = std::cos(25.0 * 3.14159265358979 / 180.0);
  std::vector<Vec3> normals;
  for (const auto& p : s.pieces)
    normals.push_back(normal_of(positions, p));
  for (std::size_t p = 0; p < s.pieces.size(); ++p) {
    const auto& piece = s.pieces[p];
    for (std::size_t i = 0; i < piece.size(); ++i) {
      const int a = piece[i];
      const int b = piece[(i + 1) % piece.size()];
      if (a == b)
        continue;
      AtEdge& edge = all[std::minmax(a, b)];
      ++edge.count;
      if (edge.first < 0)
        edge.first = static_cast<int>(p);
      else if (s.part[edge.first] != s.part[p] || s.knuckle[edge.first] != s.knuckle[p] ||
               std::abs(dot(normals[edge.first], normals[p])) < bent)
        edge.sharp = true;
    }
  }
  for (const auto& [ends, edge] : all)
    if (edge.count != 2 || edge.sharp)
      s.edges.push_back({ends.first, ends.second});
}

// Points of the cut, each on an edge between two nodes, created once.
class CutPoints
{
public:
  explicit CutPoints(Surface& surface) : surface_(surface) {}
  int at(int a, int b, double da, double db)
  {
    const auto name = std::minmax(a, b);
    const auto [found, fresh] = result_.try_emplace(name, static_cast<int>(surface_.points.size()));
    if (fresh)
      surface_.points.push_back({a, b, da / (da - db)});
    return found->second;
  }

private:
  Surface& surface_;
  std::map<std::pair<int, int>, int> result_;
};

// Points of a plane convex facet in order round their middle.
void in_order(std::vector<int>& piece, const std::vector<Vec3>& positions, const Vec3& normal)
{
  Vec3 middle;
  for (const int p : piece)
    middle += (1.0 / static_cast<double>(piece.size())) * positions[p];
  Vec3 u = positions[piece[0]] - middle;
  u = (1.0 / std::max(1e-300, norm(u))) * u;
  const Vec3 v = cross(normal, u);
  std::sort(piece.begin(), piece.end(), [&](int p, int q) {
    const Vec3 a = positions[p] - middle;
    const Vec3 b = positions[q] - middle;
    return std::atan2(dot(a, v), dot(a, u)) < std::atan2(dot(b, v), dot(b, u));
  });
}

Vec3 place(const EdgePoint& p, const mesh::BodyMesh& body)
{
  return (1.0 - p.share) * body.nodes[p.a] + p.share * body.nodes[p.b];
}

} // namespace

Surface surface_of(const mesh::BodyMesh& body, const CellFilter& include, bool coarse)
{
  static const auto sides = side_nodes();
  std::map<std::array<int, 4>, int> seen;
  for (const auto& cell : body.cells)
    if (include(cell))
      for (const auto& side : sides)
        ++seen[side_name(cell, side)];
  Surface s;
  std::unordered_map<int, int> point_of;
  auto point = [&](int node) {
    const auto [found, fresh] = point_of.try_emplace(node, static_cast<int>(s.points.size()));
    if (fresh)
      s.points.push_back({node, node, 0.0});
    return found->second;
  };
  for (const auto& cell : body.cells) {
    if (!include(cell))
      continue;
    for (const auto& side : sides) {
      if (seen.at(side_name(cell, side)) != 1)
        continue;
      const int step = coarse ? 2 : 1;
      for (int j = 0; j < 2; j += step)
        for (int i = 0; i < 2; i += step) {
          const int n = i + 3 * j;
          s.pieces.push_back({point(cell.node[side[n]]), point(cell.node[side[n + step]]),
                              point(cell.node[side[n + 4 * step]]),
                              point(cell.node[side[n + 3 * step]])});
          s.part.push_back(cell.part);
          s.knuckle.push_back(cell.knuckle);
          s.cell.push_back(static_cast<int>(&cell - body.cells.data()));
        }
    }
  }
  find_edges(s, point_positions(s, body));
  return s;
}

Surface plane_faces(const Surface& surface, const mesh::BodyMesh& body, double y)
{
  Surface face;
  face.points = surface.points;
  const std::vector<Vec3> positions = point_positions(surface, body);
  for (std::size_t p = 0; p < surface.pieces.size(); ++p) {
    const auto& piece = surface.pieces[p];
    if (std::any_of(piece.begin(), piece.end(),
                    [&](int n) { return std::abs(positions[n].y - y) > 1e-7; }))
      continue;
    face.pieces.push_back(piece);
    face.part.push_back(surface.part[p]);
    face.knuckle.push_back(surface.knuckle[p]);
    face.cell.push_back(surface.cell[p]);
  }
  find_edges(face, positions);
  return face;
}

Surface plane_cut(const mesh::BodyMesh& body, const CellFilter& include, const Vec3& position,
                  const Vec3& normal)
{
  // A node in the plane counts as just above it, so that every facet has its corners on edges.
  std::vector<double> above(body.nodes.size());
  for (std::size_t n = 0; n < above.size(); ++n) {
    above[n] = dot(body.nodes[n] - position, normal);
    if (std::abs(above[n]) < 1e-9)
      above[n] = 1e-9;
  }
  constexpr std::array<int, 8> corner{0, 1, 4, 3, 9, 10, 13, 12};
  constexpr std::array<std::array<int, 2>, 12> edges{{{0, 1},
                                                      {1, 2},
                                                      {2, 3},
                                                      {3, 0},
                                                      {4, 5},
                                                      {5, 6},
                                                      {6, 7},
                                                      {7, 4},
                                                      {0, 4},
                                                      {1, 5},
                                                      {2, 6},
                                                      {3, 7}}};
  Surface s;
  CutPoints points(s);
  std::vector<Vec3> where;
  for (const auto& cell : body.cells) {
    if (!include(cell))
      continue;
    for (int sub = 0; sub < 8; ++sub) {
      const int base = (sub & 1) + 3 * (sub >> 1 & 1) + 9 * (sub >> 2);
      std::vector<int> piece;
      for (const auto& e : edges) {
        const int a = cell.node[base + corner[e[0]]];
        const int b = cell.node[base + corner[e[1]]];
        if ((above[a] > 0.0) != (above[b] > 0.0))
          piece.push_back(points.at(a, b, above[a], above[b]));
      }
      if (piece.size() < 3)
        continue;
      while (where.size() < s.points.size())
        where.push_back(place(s.points[where.size()], body));
      in_order(piece, where, normal);
      s.pieces.push_back(piece);
      s.part.push_back(cell.part);
      s.knuckle.push_back(cell.knuckle);
      s.cell.push_back(static_cast<int>(&cell - body.cells.data()));
    }
  }
  find_edges(s, where);
  return s;
}

std::vector<Vec3> point_positions(const Surface& surface, const mesh::BodyMesh& body,
                                  const std::vector<Vec3>* displacements, double scale)
{
  std::vector<Vec3> positions;
  positions.reserve(surface.points.size());
  for (const auto& p : surface.points) {
    positions.push_back(place(p, body));
    if (displacements != nullptr)
      positions.back() +=
          scale * ((1.0 - p.share) * (*displacements)[p.a] + p.share * (*displacements)[p.b]);
  }
  return positions;
}

std::vector<double> values_at(const Surface& surface, const std::vector<double>& at_nodes)
{
  std::vector<double> values;
  values.reserve(surface.points.size());
  for (const auto& p : surface.points)
    values.push_back((1.0 - p.share) * at_nodes[p.a] + p.share * at_nodes[p.b]);
  return values;
}

} // namespace hangtrue::scene
