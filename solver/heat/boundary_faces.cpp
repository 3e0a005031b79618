// SPDX-License-Identifier: GPL-3.0-or-later
#include "solver/heat/boundary_faces.hpp"

#include <cmath>
#include <map>

namespace hangtrue::heat
{

namespace
{

// The nine nodes of the six sides of a cell, i + 3 j on the side, and whether the normal (first
// tangent x second tangent) points outwards.
struct Side {
  std::array<int, 9> node;
  double outward;
};

std::array<Side, 6> make_sides()
{
  std::array<Side, 6> sides{};
  for (int b = 0; b < 3; ++b)
    for (int a = 0; a < 3; ++a) {
      const int k = a + 3 * b;
      sides[0].node[k] = 3 * a + 9 * b;     // i = 0: tangents y, z; normal +x is inwards
      sides[1].node[k] = 2 + 3 * a + 9 * b; // i = 2
      sides[2].node[k] = a + 9 * b;         // j = 0: tangents x, z; normal -y is outwards
      sides[3].node[k] = a + 6 + 9 * b;     // j = 2
      sides[4].node[k] = a + 3 * b;         // k = 0: tangents x, y; normal +z is inwards
      sides[5].node[k] = a + 3 * b + 18;    // k = 2
    }
  const std::array<double, 6> outward{-1.0, 1.0, 1.0, -1.0, -1.0, 1.0};
  for (int s = 0; s < 6; ++s)
    sides[s].outward = outward[s];
  return sides;
}

constexpr std::array<double, 3> simpson{1.0 / 6.0, 4.0 / 6.0, 1.0 / 6.0};

// Derivatives of the quadratic Lagrange polynomials on 0, 1/2, 1 at those nodes.
constexpr double slope_at[3][3] = {{-3.0, 4.0, -1.0}, {-1.0, 0.0, 1.0}, {1.0, -4.0, 3.0}};

// Area of each node of a side by Simpson's rule, and the area vector.
Vec3 measure_side(const mesh::BodyMesh& mesh, HeatFace& face, double outward)
{
  Vec3 total;
  for (int b = 0; b < 3; ++b)
    for (int a = 0; a < 3; ++a) {
      Vec3 along_a;
      Vec3 along_b;
      for (int k = 0; k < 3; ++k) {
        along_a += slope_at[a][k] * mesh.nodes[face.node[k + 3 * b]];
        along_b += slope_at[b][k] * mesh.nodes[face.node[a + 3 * k]];
      }
      const Vec3 normal = outward * cross(along_a, along_b);
      const double weight = simpson[a] * simpson[b];
      face.area[a + 3 * b] = weight * norm(normal);
      total += weight * normal;
    }
  return total;
}

// Counts sides by their middles: sides with the same middle are the same surface, whether or not
// nodes are shared. Middles are sorted into boxes and searched for in every box that the point
// could be in but for rounding: with one box only, rounding separates points on the border of two
// boxes, as an odd 1/32 in did, and the weld land of a leaf was a surface that the room cools.
class MetSides
{
public:
  int& count(const Vec3& p)
  {
    const std::array<long, 3> low = box_of(p, -same_place);
    const std::array<long, 3> high = box_of(p, same_place);
    for (long x = low[0]; x <= high[0]; ++x)
      for (long y = low[1]; y <= high[1]; ++y)
        for (long z = low[2]; z <= high[2]; ++z)
          if (const auto found = boxes_.find({x, y, z}); found != boxes_.end())
            for (auto& side : found->second)
              if (norm(side.middle - p) < same_place)
                return side.times;
    auto& box = boxes_[box_of(p, 0.0)];
    box.push_back({p, 0});
    return box.back().times;
  }

private:
  static constexpr double same_place = 1e-7; // m
  static constexpr double box_size = 1e-6;   // m
  struct Met {
    Vec3 middle;
    int times = 0;
  };
  std::map<std::array<long, 3>, std::vector<Met>> boxes_;

  static std::array<long, 3> box_of(const Vec3& p, double moved)
  {
    const auto number = [moved](double v) {
      return static_cast<long>(std::floor((v + moved) / box_size));
    };
    return {number(p.x), number(p.y), number(p.z)};
  }
};

} // namespace

std::vector<HeatFace>
outer_faces(const mesh::BodyMesh& mesh, const std::function<bool(const mesh::Hex27&)>& conducts,
            const std::function<int(const mesh::Hex27&, const Vec3&, const Vec3&)>& kind_of)
{
  static const std::array<Side, 6> sides = make_sides();
  MetSides met;
  auto middle_of = [&](const mesh::Hex27& cell, const Side& side) {
    return mesh.nodes[cell.node[side.node[4]]];
  };
  for (const auto& cell : mesh.cells)
    if (conducts(cell))
      for (const auto& side : sides)
        ++met.count(middle_of(cell, side));
  std::vector<HeatFace> faces;
  for (const auto& cell : mesh.cells) {
    if (!conducts(cell))
      continue;
    for (const auto& side : sides) {
      const Vec3 middle = middle_of(cell, side);
      if (met.count(middle) != 1)
        continue;
      HeatFace face;
      for (int k = 0; k < 9; ++k)
        face.node[k] = cell.node[side.node[k]];
      const Vec3 area = measure_side(mesh, face, side.outward);
      face.kind = kind_of(cell, middle, (1.0 / norm(area)) * area);
      if (face.kind >= 0)
        faces.push_back(face);
    }
  }
  return faces;
}

} // namespace hangtrue::heat
