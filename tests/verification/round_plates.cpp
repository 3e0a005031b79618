// SPDX-License-Identifier: GPL-3.0-or-later
// Round plates of radius R and thickness t, nu = 0.3.
//
// Source: Timoshenko and Woinowsky-Krieger, Theory of Plates and Shells (secondary text; arithmetic
// recomputed): uniform pressure q, clamped w = 3 (1 - nu^2) q R^4 / (16 E t^3); supported (5 + nu)
// / (1 + nu) times that; load P in the middle, clamped: 3 (1 - nu^2) P R^2 / (4 pi E t^3).
#include <boost/test/unit_test.hpp>

#include "solver/elasticity/elastic_body.hpp"
#include "tests/support/book.hpp"
#include "tests/support/kernel_tools.hpp"
#include "tests/support/test_meshes.hpp"

#include <cmath>
#include <numbers>

using namespace hangtrue;
using namespace hangtrue::test;

namespace
{

constexpr double radius = 100.0;
constexpr double thick = 1.0;
constexpr double youngs = 1e7;

// A quarter: a square bent to a disc by x sqrt(1 - y^2 / 2), y sqrt(1 - x^2 / 2).
mesh::BodyMesh quarter_disc()
{
  mesh::BodyMesh mesh = block(equal_cells(1.0, 20), equal_cells(1.0, 20), {0.0, thick});
  bend_to(mesh, [](const Vec3& p) {
    return Vec3{radius * p.x * std::sqrt(1.0 - 0.5 * p.y * p.y),
                radius * p.y * std::sqrt(1.0 - 0.5 * p.x * p.x), p.z};
  });
  return mesh;
}

enum class Edge { supported, clamped };

double sunk(const mesh::BodyMesh& mesh, Edge edge, const elasticity::NodeField& load)
{
  const OnSurface rim = [](const Vec3& p) { return std::hypot(p.x, p.y) > radius - 1e-6; };
  const OnSurface middle = [&](const Vec3& p) {
    return rim(p) && std::abs(p.z - 0.5 * thick) < 1e-9;
  };
  std::vector<elasticity::FixedDof> fixed;
  hold(
      fixed, mesh, [](const Vec3& p) { return p.x < 1e-9; }, 0);
  hold(
      fixed, mesh, [](const Vec3& p) { return p.y < 1e-9; }, 1);
  if (edge == Edge::clamped)
    for (const int c : {0, 1, 2})
      hold(fixed, mesh, rim, c);
  else
    hold(fixed, mesh, middle, 2);
  const elasticity::ElasticBody plate(
      mesh, [](const mesh::Hex27&) { return elasticity::elasticity(youngs, 0.3); }, fixed);
  return -plate.solve(load)[nearest_node(mesh, {0.0, 0.0, 0.5 * thick})].z;
}

} // namespace

BOOST_AUTO_TEST_SUITE(round_plates)

BOOST_AUTO_TEST_CASE(pressure_and_point_load)
{
  const Source plates{"Round plates",
                      "Timoshenko and Woinowsky-Krieger, Theory of Plates and Shells, circular "
                      "plates (secondary text; recomputed)."};
  const mesh::BodyMesh mesh = quarter_disc();
  elasticity::NodeField pressed(mesh.nodes.size());
  add_traction(
      mesh, [](const Vec3& p) { return p.z > thick - 1e-9; },
      [](const Vec3&, const Vec3&) {
        return Vec3{0.0, 0.0, -1.0};
      },
      pressed);
  const double clamped = 3.0 * 0.91 * std::pow(radius, 4) / (16.0 * youngs * std::pow(thick, 3));
  const std::string why = "R/t = 100: shear adds 0.05 %; 20 x 20 cells on a quarter";
  check_row(plates, {"round-clamped", "clamped, even pressure: middle", ""},
            near(clamped, 0.01, why), sunk(mesh, Edge::clamped, pressed));
  check_row(plates, {"round-supported", "supported, even pressure: middle", ""},
            near(clamped * 5.3 / 1.3, 0.01, why), sunk(mesh, Edge::supported, pressed));
  // A quarter of P = 10 along the line through the middle.
  elasticity::NodeField poked(mesh.nodes.size());
  for (const auto& [z, share] : {std::pair{0.0, 1.0}, {0.5, 4.0}, {1.0, 1.0}})
    poked[nearest_node(mesh, {0.0, 0.0, z * thick})].z = -10.0 / 4.0 * share / 6.0;
  check_row(plates, {"round-clamped-poked", "clamped, load in the middle: middle", ""},
            near(3.0 * 0.91 * 10.0 * radius * radius /
                     (4.0 * std::numbers::pi * youngs * std::pow(thick, 3)),
                 0.01, "a line load bends a little more than a thin plate says"),
            sunk(mesh, Edge::clamped, poked));
}

BOOST_AUTO_TEST_SUITE_END()
