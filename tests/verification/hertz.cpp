// SPDX-License-Identifier: GPL-3.0-or-later
// A cylinder pressed on a block: the contact kernel on line contact.
//
// Sources: Hertz line contact (Johnson, Contact Mechanics, from memory; recomputed): half width
// a = sqrt(4 P' R / (pi E*)), peak p0 = sqrt(P' E* / (pi R)), 1 / E* = sum (1 - nu^2) / E. NAFEMS
// R0094 benchmark 1 (Konter, Advanced Finite Element Contact Benchmarks, 2006, from memory; agrees
// with Hertz): R 50 mm, E 210 on 70 GPa, nu 0.3, 35 kN/mm: a 6.21 mm, p0 3585 MPa.
#define BOOST_TEST_MODULE contact_kernel
#include <boost/test/unit_test.hpp>

#include "solver/contact/contact_solver.hpp"
#include "solver/substructuring/substructured_body.hpp"
#include "tests/support/book.hpp"
#include "tests/support/kernel_tools.hpp"
#include "tests/support/test_meshes.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>
#include <vector>

using namespace hangtrue;
using namespace hangtrue::test;

namespace
{

constexpr double pi = std::numbers::pi;

// Lengths in mm, forces in N, so stresses in MPa.
struct Case {
  double radius = 0.0;
  double youngs_cylinder = 0.0;
  double youngs_block = 0.0;
  double line_load = 0.0; // N/mm
};

struct Pressed {
  double half_width = 0.0;
  double peak = 0.0;
};

constexpr double layer = 1.0; // mm, thickness of the slice

// From 0: `fine` cells of `first`, then growing ones up to `to`.
std::vector<double> graded(double first, int fine, double to)
{
  std::vector<double> places = equal_cells(first * fine, fine);
  double step = first;
  while (places.back() + 1.5 * step < to) {
    step *= 1.35;
    places.push_back(places.back() + step);
  }
  places.back() = to;
  return places;
}

std::vector<elasticity::FixedDof> symmetric_slice(const mesh::BodyMesh& mesh)
{
  std::vector<elasticity::FixedDof> fixed;
  hold(
      fixed, mesh, [](const Vec3&) { return true; }, 2);
  hold(
      fixed, mesh, [](const Vec3& p) { return p.x < 1e-9; }, 0);
  return fixed;
}

// Hertz by half of the lower half of a cylinder (centre 0, R) on half a block below y = 0.
Pressed press(const Case& c)
{
  const double e_star = 0.5 / (0.91 / 2.0 / c.youngs_cylinder + 0.91 / 2.0 / c.youngs_block);
  const double a = std::sqrt(4.0 * c.line_load * c.radius / (pi * e_star));
  const double first = 0.08 * a;
  constexpr int fine = 18;
  const auto angles = graded(first / c.radius, fine, 0.5 * pi);
  const double fine_angle = angles[fine];
  mesh::BodyMesh cylinder =
      block(angles, graded(first, 3, 0.98 * c.radius), {0.0, layer}); // y is the depth
  bend_to(cylinder, [&](const Vec3& p) {
    const double r = c.radius - p.y;
    return Vec3{r * std::sin(p.x), c.radius - r * std::cos(p.x), p.z};
  });
  mesh::BodyMesh bed = block(angles, graded(first, 3, 4.0 * c.radius), {0.0, layer});
  bend_to(bed, [&](const Vec3& p) {
    const double beyond = std::max(p.x - fine_angle, 0.0) / (0.5 * pi - fine_angle);
    const double near_x = c.radius * std::sin(std::min(p.x, fine_angle));
    return Vec3{near_x + beyond * (4.0 * c.radius - near_x), -p.y, p.z};
  });
  // The bed was turned over; put its cells' own order right again.
  for (auto& cell : bed.cells) {
    const mesh::Hex27 before = cell;
    for (int n = 0; n < 27; ++n)
      cell.node[n] = before.node[n % 3 + 3 * (2 - (n / 3) % 3) + 9 * (n / 9)];
  }

  auto held_cylinder = symmetric_slice(cylinder);
  held_cylinder.push_back({nearest_node(cylinder, {0.0, 0.98 * c.radius, 0.0}), 1});
  auto held_bed = symmetric_slice(bed);
  hold(
      held_bed, bed, [&](const Vec3& p) { return p.y < -4.0 * c.radius + 1e-6; }, 1);
  substructuring::FactorizationCache cache;
  const substructuring::SubstructuredBody elastic_cylinder(
      cylinder, [&](const mesh::Hex27&) { return elasticity::elasticity(c.youngs_cylinder, 0.3); },
      held_cylinder, {}, cache);
  const substructuring::SubstructuredBody elastic_bed(
      bed, [&](const mesh::Hex27&) { return elasticity::elasticity(c.youngs_block, 0.3); },
      held_bed, {}, cache);
  std::vector<contact::BodyResponse> bodies(2);
  bodies[0].mesh = &cylinder;
  bodies[0].elastic = &elastic_cylinder;
  bodies[0].load.resize(cylinder.nodes.size());
  bodies[1].mesh = &bed;
  bodies[1].elastic = &elastic_bed;
  bodies[1].load.resize(bed.nodes.size());
  const double cut = 0.98 * c.radius; // length of the cylinder's level cut
  add_traction(
      cylinder, [&](const Vec3& p) { return std::abs(p.y - c.radius) < 1e-9; },
      [&](const Vec3&, const Vec3&) {
        return Vec3{0.0, -0.5 * c.line_load / cut, 0.0};
      },
      bodies[0].load);
  for (auto& body : bodies)
    body.load_displacement = body.elastic->solve(body.load);

  // Node on node: nodes along x first, then through the thickness.
  const int along = 2 * static_cast<int>(angles.size()) - 1;
  const int plane = along * (static_cast<int>(cylinder.nodes.size()) / along / 3);
  const int bed_plane = static_cast<int>(bed.nodes.size()) / 3;
  std::vector<contact::ContactPair> pairs;
  for (int k = 0; k < 3; ++k)
    for (int i = 0; i <= 2 * fine; ++i) {
      contact::ContactPair pair;
      pair.round = k;
      pair.normal = {0.0, 1.0, 0.0};
      pair.gap = cylinder.nodes[i].y;
      pair.outer = {0, {{i + k * plane, 1.0}}};
      pair.inner = {1, {{i + k * bed_plane, 1.0}}};
      pairs.push_back(pair);
    }
  const contact::ContactResult contact =
      contact::solve_contact(bodies, {{0, {0.0, 1.0, 0.0}, {}, {}}}, pairs, {});

  Pressed found;
  std::vector<double> contact_force(2 * fine + 1); // through the thickness
  for (std::size_t p = 0; p < pairs.size(); ++p)
    contact_force[p % contact_force.size()] += contact.state.contact_force[p];
  double sum = 0.0;
  for (std::size_t i = 0; i < contact_force.size(); ++i) {
    sum += contact_force[i];
    if (contact_force[i] > 0.0)
      found.half_width = cylinder.nodes[i].x + 0.25 * first;
  }
  BOOST_TEST(std::abs(sum / (0.5 * c.line_load * layer) - 1.0) < 1e-9);
  found.peak = (contact_force[0] + contact_force[1] + 0.5 * contact_force[2]) / (first * layer);
  return found;
}

} // namespace

BOOST_AUTO_TEST_CASE(steel_on_steel)
{
  const Pressed found = press({10.0, 200e3, 200e3, 100.0});
  const Source hertz{"Hertz",
                     "Hertz line contact (Johnson, Contact Mechanics, from memory; recomputed)."};
  check_row(hertz, {"hertz-half-width", "R 10 mm on a flat, E 200 GPa, 100 N/mm: half width", "mm"},
            near(0.107641, 0.05, "contact ends at a node, every 0.04 of it"), found.half_width);
  check_row(hertz, {"hertz-peak", "the same: peak pressure", "MPa"},
            near(591.43, 0.02, "cells of 0.08 half widths"), found.peak);
}

BOOST_AUTO_TEST_CASE(nafems_cylinder_on_block)
{
  const Pressed found = press({50.0, 210e3, 70e3, 35e3});
  const Source nafems{"NAFEMS contact",
                      "NAFEMS R0094, benchmark 1 (Konter, Advanced Finite Element "
                      "Contact Benchmarks, 2006, from memory; agrees with Hertz)."};
  check_row(nafems, {"r0094-1-half-width", "steel cylinder on aluminium block: half width", "mm"},
            near(6.21, 0.05, "contact ends at a node, every 0.04 of it"), found.half_width);
  check_row(nafems, {"r0094-1-peak", "steel cylinder on aluminium block: peak pressure", "MPa"},
            near(3585.0, 0.03,
                 "half width an eighth of the radius; small strain, nodes meet straight below"),
            found.peak);
}
