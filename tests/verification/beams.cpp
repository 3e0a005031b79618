// SPDX-License-Identifier: GPL-3.0-or-later
// Straight beams of solid cells against engineering beam theory with shear.
//
// Source: Timoshenko, Strength of Materials (from memory): cantilever P L^3 / (3 E I),
// end-supported beam P L^3 / (48 E I) and 5 q L^4 / (384 E I), to which shear adds P L, P L / 4 and
// q L^2 / 8 over G A 5/6. The pressed beam is an example of a general-purpose finite-element
// library: E 209 000, nu 0.3, 200 x 30 x 16.25, pressure 1.
#include <boost/test/unit_test.hpp>

#include "solver/elasticity/elastic_body.hpp"
#include "tests/support/book.hpp"
#include "tests/support/kernel_tools.hpp"
#include "tests/support/test_meshes.hpp"

#include <cmath>

using namespace hangtrue;
using namespace hangtrue::test;

namespace
{

constexpr double youngs = 209000.0;
constexpr double shear = youngs / 2.6;
constexpr double length = 200.0;
constexpr double wide = 30.0;
constexpr double deep = 16.25;
constexpr double inertia = wide * deep * deep * deep / 12.0;
constexpr double area = wide * deep * 5.0 / 6.0;

const Source beam_theory{"Beams", "Timoshenko, Strength of Materials, beams with shear (from "
                                  "memory); the pressed beam is an example of a general-purpose "
                                  "finite-element library."};

// From the middle (x = 0), which stays upright, to an end supported at half depth.
std::vector<elasticity::FixedDof> half_of_supported(const mesh::BodyMesh& mesh)
{
  std::vector<elasticity::FixedDof> fixed;
  hold(
      fixed, mesh, [](const Vec3& p) { return p.x < 1e-9; }, 0);
  hold(
      fixed, mesh, [](const Vec3& p) { return p.x < 1e-9 && std::abs(p.y - 0.5 * wide) < 1e-9; },
      1);
  hold(
      fixed, mesh,
      [](const Vec3& p) { return p.x > 0.5 * length - 1e-9 && std::abs(p.z - 0.5 * deep) < 1e-9; },
      2);
  return fixed;
}

elasticity::NodeField pushed(const mesh::BodyMesh& mesh, const OnSurface& face, double traction)
{
  elasticity::NodeField load(mesh.nodes.size());
  add_traction(
      mesh, face,
      [traction](const Vec3&, const Vec3&) {
        return Vec3{0.0, 0.0, -traction};
      },
      load);
  return load;
}

} // namespace

BOOST_AUTO_TEST_SUITE(beams)

BOOST_AUTO_TEST_CASE(supported_at_its_ends)
{
  const mesh::BodyMesh mesh =
      block(equal_cells(0.5 * length, 8), equal_cells(wide, 2), equal_cells(deep, 2));
  const elasticity::ElasticBody beam(
      mesh, [](const mesh::Hex27&) { return elasticity::elasticity(youngs, 0.3); },
      half_of_supported(mesh));
  const int middle = nearest_node(mesh, {0.0, 0.5 * wide, 0.5 * deep});
  const auto sunk = [&](const elasticity::NodeField& load) { return -beam.solve(load)[middle].z; };
  const std::string why = "the end spreads its reaction over a depth of the beam";
  check_row(beam_theory, {"beam-pressed", "pressed beam: middle", ""},
            near(5.0 * wide * std::pow(length, 4) / (384.0 * youngs * inertia) +
                     wide * length * length / (8.0 * shear * area),
                 0.01, why),
            sunk(pushed(
                mesh, [](const Vec3& p) { return p.z > deep - 1e-9; }, 1.0)));
  const double load = 1000.0;
  check_row(beam_theory, {"beam-middle-load", "load in the middle: middle", ""},
            near(load * std::pow(length, 3) / (48.0 * youngs * inertia) +
                     load * length / (4.0 * shear * area),
                 0.01, why),
            sunk(pushed(
                mesh, [](const Vec3& p) { return p.x < 1e-9; }, 0.5 * load / (wide * deep))));
}

BOOST_AUTO_TEST_CASE(cantilever)
{
  const mesh::BodyMesh mesh =
      block(equal_cells(length, 16), equal_cells(wide, 2), equal_cells(deep, 2));
  std::vector<int> root;
  for (std::size_t n = 0; n < mesh.nodes.size(); ++n)
    if (mesh.nodes[n].x < 1e-9)
      root.push_back(static_cast<int>(n));
  const elasticity::ElasticBody beam(
      mesh, [](const mesh::Hex27&) { return elasticity::elasticity(youngs, 0.0); },
      elasticity::fix_all(root));
  const double load = 1000.0;
  const elasticity::NodeField displacements = beam.solve(pushed(
      mesh, [](const Vec3& p) { return p.x > length - 1e-9; }, load / (wide * deep)));
  check_row(beam_theory, {"beam-cantilever", "cantilever: end", ""},
            near(load * std::pow(length, 3) / (3.0 * youngs * inertia) +
                     load * length / (0.5 * youngs * area),
                 0.005, "nu = 0, so that the root is not kept from narrowing"),
            -displacements[nearest_node(mesh, {length, 0.5 * wide, 0.5 * deep})].z);
}

BOOST_AUTO_TEST_SUITE_END()
