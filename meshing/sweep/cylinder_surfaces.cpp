// SPDX-License-Identifier: GPL-3.0-or-later
#include "meshing/sweep/cylinder_surfaces.hpp"

#include "meshing/common/errors.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>
#include <set>

namespace hangtrue::sweep
{

namespace
{

constexpr double same_place = 1e-7; // m

struct Polar {
  double radius;
  double angle;
  int section_node;
};

// Angles rounded to 1e-9 rad: the mesher's rounding would make two equal pins look different.
double displayed_angle(double angle)
{
  constexpr double grain = 1e-9; // rad
  return std::round(angle / grain) * grain;
}

// Section nodes of one hinge's part, in polar coordinates of their current positions in the body.
std::vector<Polar> polar_nodes(const SweptBody& swept, const door::AxisPosition& axis, int hinge,
                               mesh::Part part, std::size_t plane)
{
  std::set<int> nodes;
  for (const auto& quad : swept.section.mesh.quads) {
    const auto& patch = swept.section.patches[quad.label];
    if (patch.hinge == hinge && patch.part == part)
      nodes.insert(quad.node.begin(), quad.node.end());
  }
  std::vector<Polar> polar;
  for (const int n : nodes) {
    const int body_node = swept.node[n][plane];
    if (body_node < 0)
      continue;
    const Vec3& p = swept.body.nodes[body_node];
    const double x = p.x - axis.x;
    const double y = p.y - axis.y;
    const double radius = std::hypot(x, y);
    polar.push_back({radius, displayed_angle(turn_from_zero(std::atan2(y, x), radius)), n});
  }
  std::sort(polar.begin(), polar.end(),
            [](const Polar& a, const Polar& b) { return a.angle < b.angle; });
  return polar;
}

std::size_t plane_at(const SweptBody& swept, double z)
{
  for (std::size_t p = 0; p < swept.plane.size(); ++p)
    if (std::abs(swept.plane[p] - z) < same_place)
      return p;
  throw ComputeError("mesh: a knuckle does not end on a station; report this door");
}

} // namespace

double turn_from_zero(double angle, double radius)
{
  const double turn = 2.0 * std::numbers::pi;
  const double a = std::fmod(angle, turn);
  const double up = a < 0.0 ? a + turn : a;
  return (turn - up) * radius < same_place ? 0.0 : up;
}

mesh::Cylinder cylinder(const SweptBody& swept, const door::AxisPosition& axis, int hinge,
                        mesh::Part part, double radius, const door::Span& span)
{
  mesh::Cylinder result;
  const std::size_t first = plane_at(swept, span.from);
  const std::size_t last = plane_at(swept, span.to);
  std::vector<int> nodes;
  for (const auto& p : polar_nodes(swept, axis, hinge, part, first))
    if (std::abs(p.radius - radius) < same_place) {
      nodes.push_back(p.section_node);
      result.angle.push_back(p.angle);
    }
  for (std::size_t p = first; p <= last; ++p) {
    result.z.push_back(swept.plane[p]);
    std::vector<int> row;
    row.reserve(nodes.size());
    for (const int n : nodes)
      row.push_back(swept.node[n][p]);
    result.node.push_back(row);
  }
  return result;
}

mesh::Annulus annulus(const SweptBody& swept, const door::AxisPosition& axis, int hinge, double z)
{
  mesh::Annulus result;
  result.z = z;
  const std::size_t plane = plane_at(swept, z);
  const auto polar = polar_nodes(swept, axis, hinge, mesh::Part::ring, plane);
  for (const auto& p : polar) {
    const bool known = std::any_of(result.radius.begin(), result.radius.end(),
                                   [&](double r) { return std::abs(r - p.radius) < same_place; });
    if (!known)
      result.radius.push_back(p.radius);
  }
  std::sort(result.radius.begin(), result.radius.end());
  result.node.resize(result.radius.size());
  for (const auto& p : polar)
    for (std::size_t r = 0; r < result.radius.size(); ++r)
      if (std::abs(result.radius[r] - p.radius) < same_place) {
        result.node[r].push_back(swept.node[p.section_node][plane]);
        if (r == 0)
          result.angle.push_back(p.angle);
      }
  return result;
}

} // namespace hangtrue::sweep
