#include "solver/heat_faces.hpp"

#include <cmath>
#include <map>

namespace hangtrue
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

// Slopes of the quadratic Lagrange polynomials on 0, 1/2, 1 at those nodes.
constexpr double slope_at[3][3] = {{-3.0, 4.0, -1.0}, {-1.0, 0.0, 1.0}, {1.0, -4.0, 3.0}};

// Area of each node of a side by Simpson's rule, and the area vector.
Vec3 measure_side(const BodyMesh& mesh, HeatFace& face, double outward)
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

// Sides are the same surface when their middles are the same place, whether or not nodes are
// shared.
std::array<long, 3> key_of(const Vec3& p)
{
  return {std::lround(p.x * 1e7), std::lround(p.y * 1e7), std::lround(p.z * 1e7)};
}

} // namespace

std::vector<HeatFace>
outer_faces(const BodyMesh& mesh, const std::function<bool(const Hex&)>& conducts,
            const std::function<int(const Hex&, const Vec3&, const Vec3&)>& kind_of)
{
  static const std::array<Side, 6> sides = make_sides();
  std::map<std::array<long, 3>, int> met;
  auto middle_of = [&](const Hex& cell, const Side& side) {
    return mesh.nodes[cell.node[side.node[4]]];
  };
  for (const auto& cell : mesh.cells)
    if (conducts(cell))
      for (const auto& side : sides)
        ++met[key_of(middle_of(cell, side))];
  std::vector<HeatFace> faces;
  for (const auto& cell : mesh.cells) {
    if (!conducts(cell))
      continue;
    for (const auto& side : sides) {
      const Vec3 middle = middle_of(cell, side);
      if (met.at(key_of(middle)) != 1)
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

} // namespace hangtrue
