// SPDX-License-Identifier: GPL-3.0-or-later
// Two blocks pressed together: uniform pressure must pass the interface uniformly.
//
// Source: contact patch test (Taylor and Papadopoulos; El-Abbasi and Bathe, Computers & Structures
// 79, 2001; from memory): to rounding where nodes meet; a few per cent where nodes meet faces.
#include <boost/test/unit_test.hpp>

#include "solver/contact/contact_solver.hpp"
#include "solver/elasticity/stress.hpp"
#include "solver/fe/cell_values.hpp"
#include "solver/substructuring/substructured_body.hpp"
#include "tests/support/book.hpp"
#include "tests/support/kernel_tools.hpp"
#include "tests/support/test_meshes.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <vector>

using namespace hangtrue;
using namespace hangtrue::test;

namespace
{

// A unit cube from z = `low`, `cells` a side in the plane.
mesh::BodyMesh cube(int cells, double low)
{
  return block(equal_cells(1.0, cells), equal_cells(1.0, cells), {low, low + 1.0});
}

std::vector<elasticity::FixedDof> symmetric(const mesh::BodyMesh& mesh)
{
  std::vector<elasticity::FixedDof> fixed;
  hold(
      fixed, mesh, [](const Vec3& p) { return p.x < 1e-9; }, 0);
  hold(
      fixed, mesh, [](const Vec3& p) { return p.y < 1e-9; }, 1);
  return fixed;
}

// The place (x, y) on the upper face of a cube as a mean of the nine nodes of its cell face.
std::vector<contact::NodeWeight> on_face(const mesh::BodyMesh& mesh, int cells, double x, double y)
{
  const int i = std::min(static_cast<int>(x * cells), cells - 1);
  const int j = std::min(static_cast<int>(y * cells), cells - 1);
  const auto shape = [](double s) { // quadratic through 0, 1/2, 1
    return std::array<double, 3>{(1.0 - s) * (1.0 - 2.0 * s), 4.0 * s * (1.0 - s),
                                 s * (2.0 * s - 1.0)};
  };
  const auto u = shape(x * cells - i);
  const auto v = shape(y * cells - j);
  std::vector<contact::NodeWeight> nodes;
  for (int n = 0; n < 9; ++n)
    if (std::abs(u[n % 3] * v[n / 3]) > 1e-12)
      nodes.push_back({mesh.cells[i + cells * j].node[18 + n], u[n % 3] * v[n / 3]});
  return nodes;
}

// Worst error of the stress in both cubes, of the pressure.
double worst_error(int upper_cells, int lower_cells)
{
  const mesh::BodyMesh upper = cube(upper_cells, 1.0);
  const mesh::BodyMesh lower = cube(lower_cells, 0.0);
  const elasticity::Elasticity e = elasticity::elasticity(200e9, 0.3);
  const elasticity::CellElasticity steel = [&](const mesh::Hex27&) { return e; };
  auto held_upper = symmetric(upper);
  held_upper.push_back({nearest_node(upper, {0.0, 0.0, 2.0}), 2});
  auto held_lower = symmetric(lower);
  hold(
      held_lower, lower, [](const Vec3& p) { return p.z < 1e-9; }, 2);
  substructuring::FactorizationCache cache;
  const substructuring::SubstructuredBody elastic_upper(upper, steel, held_upper, {}, cache);
  const substructuring::SubstructuredBody elastic_lower(lower, steel, held_lower, {}, cache);
  std::vector<contact::BodyResponse> bodies(2);
  bodies[0].mesh = &upper;
  bodies[0].elastic = &elastic_upper;
  bodies[0].load.resize(upper.nodes.size());
  bodies[1].mesh = &lower;
  bodies[1].elastic = &elastic_lower;
  bodies[1].load.resize(lower.nodes.size());
  const double pressure = 1e6;
  add_traction(
      upper, [](const Vec3& p) { return p.z > 2.0 - 1e-9; },
      [&](const Vec3&, const Vec3& normal) { return -pressure * normal; }, bodies[0].load);
  for (auto& body : bodies)
    body.load_displacement = body.elastic->solve(body.load);
  std::vector<contact::ContactPair> pairs;
  for (std::size_t n = 0; n < upper.nodes.size(); ++n) {
    const Vec3& p = upper.nodes[n];
    if (p.z > 1.0 + 1e-9)
      continue;
    contact::ContactPair pair;
    pair.normal = {0.0, 0.0, 1.0};
    pair.outer = {0, {{static_cast<int>(n), 1.0}}};
    pair.inner = {1, on_face(lower, lower_cells, p.x, p.y)};
    pairs.push_back(pair);
  }
  const std::vector<contact::RigidMode> modes{{0, {0.0, 0.0, 1.0}, {}, {}}};
  const contact::ContactResult contact = contact::solve_contact(bodies, modes, pairs, {});
  double worst = 0.0;
  elasticity::Stress upright;
  upright[2][2] = 1.0;
  for (int b = 0; b < 2; ++b) {
    const elasticity::NodeField displacements =
        contact::body_displacements(bodies[b], b, modes, pairs, contact.state, {});
    fe::visit_cells(*bodies[b].mesh, fe::is_steel, [&](const fe::CellValues& at) {
      for (const elasticity::Stress& s : elasticity::stresses(at, e, displacements))
        worst = std::max(worst, (s + pressure * upright).norm() / pressure);
    });
  }
  return worst;
}

} // namespace

BOOST_AUTO_TEST_SUITE(contact_patch)

BOOST_AUTO_TEST_CASE(uniform_pressure_passes)
{
  const Source patch{"Contact patch test",
                     "Taylor and Papadopoulos; El-Abbasi and Bathe, Computers "
                     "& Structures 79 (2001) (from memory)."};
  check_row(patch,
            {"contact-patch-matching", "nodes on nodes: worst stress error, of the pressure", ""},
            at_most(1e-8, "rounding"), worst_error(2, 2));
  check_row(
      patch,
      {"contact-patch-faces", "nodes on faces, 3 x 3 on 2 x 2: worst stress error, of the pressure",
       ""},
      at_most(0.25, "node to surface is not consistent: a few per cent, more at single points"),
      worst_error(3, 2));
}

BOOST_AUTO_TEST_SUITE_END()
