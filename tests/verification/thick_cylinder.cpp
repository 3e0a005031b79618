// SPDX-License-Identifier: GPL-3.0-or-later
// Thick cylinders: pressure inside, and heat inside.
//
// Sources: Lame's solution, plane strain (Timoshenko and Goodier, Theory of Elasticity); a = 10, b
// = 20 mm, p = 100 MPa, E = 210 GPa, nu = 0.3: u(a) = 9.07937e-3 mm, hoop 166.667 MPa inside and
// 66.667 MPa outside (secondary text, recomputed). Long hollow cylinder with the inside 100 K
// hotter and the logarithmic profile of steady conduction, E = 200 GPa, nu = 0.3, alpha = 12e-6:
// hoop -209.82 and +133.03 MPa (same book, from memory; recomputed by quadrature). Band 1 %: stress
// is carried from Gauss points to the surface.
#include <boost/test/unit_test.hpp>

#include "solver/elasticity/assembly.hpp"
#include "solver/elasticity/elastic_body.hpp"
#include "tests/support/book.hpp"
#include "tests/support/heat_tools.hpp"
#include "tests/support/kernel_tools.hpp"
#include "tests/support/test_meshes.hpp"

#include <cmath>
#include <numbers>

using namespace hangtrue;
using namespace hangtrue::test;

namespace
{

const Source cylinders{
    "Thick cylinders",
    "Lame's solution, plane strain (secondary text, recomputed); long hollow cylinder in heat, "
    "Timoshenko and Goodier, Theory of Elasticity (from memory; recomputed by quadrature)."};
constexpr const char* to_surface = "stress is carried from Gauss points to the surface";

constexpr double inner = 0.010; // m
constexpr double outer = 0.020; // m
constexpr int radial = 12;
constexpr int angular = 8;

mesh::BodyMesh quarter_ring()
{
  mesh::BodyMesh mesh = block(equal_cells(outer - inner, radial),
                              equal_cells(0.5 * std::numbers::pi, angular), {0.0, 0.002});
  bend_to(mesh, [](const Vec3& p) {
    const double r = inner + p.x;
    return Vec3{r * std::cos(p.y), r * std::sin(p.y), p.z};
  });
  return mesh;
}

// Symmetry on both cut planes, no strain along the axis.
std::vector<elasticity::FixedDof> plane_strain(const mesh::BodyMesh& mesh)
{
  std::vector<elasticity::FixedDof> fixed;
  hold(
      fixed, mesh, [](const Vec3& p) { return std::abs(p.y) < 1e-9; }, 1);
  hold(
      fixed, mesh, [](const Vec3& p) { return std::abs(p.x) < 1e-9; }, 0);
  hold(
      fixed, mesh, [](const Vec3&) { return true; }, 2);
  return fixed;
}

double radius_of(const Vec3& p)
{
  return std::hypot(p.x, p.y);
}

// Temperatures, degC, of a ring at a prescribed 100 inside and 0 outside, by the conduction kernel.
std::vector<double> warm(const mesh::BodyMesh& mesh)
{
  heat::HeatProblem problem = problem_on(mesh, plain(45.0, 1.0));
  for (std::size_t n = 0; n < mesh.nodes.size(); ++n) {
    const double r = radius_of(mesh.nodes[n]);
    if (std::abs(r - inner) < 1e-9)
      problem.prescribed.push_back({static_cast<int>(n), [](double) { return 100.0; }});
    if (std::abs(r - outer) < 1e-9)
      problem.prescribed.push_back({static_cast<int>(n), [](double) { return 0.0; }});
  }
  return heat::HeatSolver(problem).steady(0.0, 50.0).value;
}

} // namespace

BOOST_AUTO_TEST_SUITE(thick_cylinder)

BOOST_AUTO_TEST_CASE(pressed_from_inside)
{
  const mesh::BodyMesh mesh = quarter_ring();
  const elasticity::Elasticity steel = elasticity::elasticity(210e9, 0.3);
  const elasticity::ElasticBody ring(
      mesh, [&](const mesh::Hex27&) { return steel; }, plane_strain(mesh));
  elasticity::NodeField load(mesh.nodes.size());
  add_traction(
      mesh, [](const Vec3& p) { return std::abs(radius_of(p) - inner) < 1e-9; },
      [](const Vec3&, const Vec3& normal) { return -100e6 * normal; }, load);
  const elasticity::NodeField displacements = ring.solve(load);
  const double widened = 1e3 * displacements[nearest_node(mesh, {inner, 0.0, 0.0})].x;
  // Hoop stress is yy at the cut y = 0: first and last cell of the first row.
  const double inside = corner_stress(mesh, 0, 0, 0, 0, steel, displacements)[1][1] / 1e6;
  const double outside = corner_stress(mesh, radial - 1, 2, 0, 0, steel, displacements)[1][1] / 1e6;
  check_row(cylinders, {"lame-widening", "pressed cylinder: widening of the inside", "mm"},
            near(9.07937e-3, 0.001, "12 x 8 cells"), widened);
  check_row(cylinders, {"lame-hoop-inside", "pressed cylinder: hoop stress inside", "MPa"},
            near(166.667, 0.01, to_surface), inside);
  check_row(cylinders, {"lame-hoop-outside", "pressed cylinder: hoop stress outside", "MPa"},
            near(66.667, 0.01, to_surface), outside);
}

BOOST_AUTO_TEST_CASE(hot_inside)
{
  const mesh::BodyMesh mesh = quarter_ring();
  const elasticity::Elasticity steel = elasticity::elasticity(200e9, 0.3);
  const elasticity::CellElasticity everywhere = [&](const mesh::Hex27&) { return steel; };
  const elasticity::ElasticBody ring(mesh, everywhere, plane_strain(mesh));
  std::vector<double> strain;
  for (const double t : warm(mesh))
    strain.push_back(12e-6 * t);
  const double middle = std::sqrt(inner * outer);
  const int index = nearest_node(mesh, {middle, 0.0, 0.0});
  const double r = radius_of(mesh.nodes[index]);
  check_row(
      cylinders,
      {"hot-cylinder-profile", "cylinder hot inside: temperature near sqrt(a b)", "degC"},
      near(100.0 * std::log(outer / r) / std::log(outer / inner), 1e-4, "12 cells, a logarithm"),
      strain[index] / 12e-6);
  const elasticity::NodeField displacements =
      ring.solve(elasticity::free_strain_forces(mesh, everywhere, strain));
  const double inside = corner_stress(mesh, 0, 0, 0, 0, steel, displacements, strain)[1][1] / 1e6;
  const double outside =
      corner_stress(mesh, radial - 1, 2, 0, 0, steel, displacements, strain)[1][1] / 1e6;
  check_row(cylinders, {"hot-cylinder-inside", "cylinder hot inside: hoop stress inside", "MPa"},
            near(-209.82, 0.01, to_surface), inside);
  check_row(cylinders, {"hot-cylinder-outside", "cylinder hot inside: hoop stress outside", "MPa"},
            near(133.03, 0.01, to_surface), outside);
}

BOOST_AUTO_TEST_SUITE_END()
