// SPDX-License-Identifier: GPL-3.0-or-later
#include "meshing/mesh/hex27_geometry.hpp"

#include <cmath>

namespace hangtrue::mesh
{

namespace
{

struct Quadratic {
  std::array<double, 3> value;
  std::array<double, 3> slope;
};

// Lagrange polynomials on 0, 1/2, 1.
Quadratic quadratic(double t)
{
  return {{(1.0 - t) * (1.0 - 2.0 * t), 4.0 * t * (1.0 - t), t * (2.0 * t - 1.0)},
          {4.0 * t - 3.0, 4.0 - 8.0 * t, 4.0 * t - 1.0}};
}

struct PointOfRule {
  std::array<double, 27> value;
  std::array<std::array<double, 3>, 27> slope;
  double weight;
};

// The 3-point Gauss rule on 0..1: 1/2 and 1/2 +- sqrt(3/20), weights 4/9 and 5/18.
std::array<PointOfRule, 27> make_rule()
{
  const double off = std::sqrt(0.15);
  const std::array<double, 3> position{0.5 - off, 0.5, 0.5 + off};
  const std::array<double, 3> weight{5.0 / 18.0, 4.0 / 9.0, 5.0 / 18.0};
  std::array<PointOfRule, 27> rule{};
  for (int q = 0; q < 27; ++q) {
    const int a = q % 3;
    const int b = (q / 3) % 3;
    const int c = q / 9;
    const Quadratic u = quadratic(position[a]);
    const Quadratic v = quadratic(position[b]);
    const Quadratic w = quadratic(position[c]);
    rule[q].weight = weight[a] * weight[b] * weight[c];
    for (int n = 0; n < 27; ++n) {
      const int i = n % 3;
      const int j = (n / 3) % 3;
      const int k = n / 9;
      rule[q].value[n] = u.value[i] * v.value[j] * w.value[k];
      rule[q].slope[n] = {u.slope[i] * v.value[j] * w.value[k],
                          u.value[i] * v.slope[j] * w.value[k],
                          u.value[i] * v.value[j] * w.slope[k]};
    }
  }
  return rule;
}

} // namespace

HexMeasure measure(const BodyMesh& body, const Hex27& cell)
{
  static const std::array<PointOfRule, 27> rule = make_rule();
  HexMeasure result;
  for (int q = 0; q < 27; ++q) {
    std::array<Vec3, 3> edge{};
    Vec3 position;
    for (int n = 0; n < 27; ++n) {
      const Vec3& p = body.nodes[cell.node[n]];
      position += rule[q].value[n] * p;
      for (int d = 0; d < 3; ++d)
        edge[d] += rule[q].slope[n][d] * p;
    }
    result.jacobian[q] = dot(edge[0], cross(edge[1], edge[2]));
    result.volume += rule[q].weight * result.jacobian[q];
    result.moment += rule[q].weight * result.jacobian[q] * position;
  }
  return result;
}

} // namespace hangtrue::mesh
