// SPDX-License-Identifier: GPL-3.0-or-later
// Membranes of NAFEMS, as thin solids: LE1 (elliptic membrane) and T1 (hot spot).
//
// Source: The Standard NAFEMS Benchmarks, TNSB Rev. 3, 1990. LE1 as carried by the examples of a
// general-purpose finite-element library; T1's target from memory. T1 is also Timoshenko and
// Goodier's hot disc in an infinite plate: hoop stress (E alpha T / 2) (R / r)^2 outside it, with
// E alpha T / 2 = 50 MPa; a plate of 20 mm shifts that by (R / L)^2, about 1 %.
#include <boost/test/unit_test.hpp>

#include "solver/elasticity/assembly.hpp"
#include "solver/elasticity/elastic_body.hpp"
#include "tests/support/book.hpp"
#include "tests/support/kernel_tools.hpp"
#include "tests/support/test_meshes.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>

using namespace hangtrue;
using namespace hangtrue::test;

namespace
{

constexpr double quarter_turn = 0.5 * std::numbers::pi;

// Symmetry on x = 0 and y = 0; the plane z = 0 stays plane, the other face is free.
std::vector<elasticity::FixedDof> plane_stress(const mesh::BodyMesh& mesh)
{
  std::vector<elasticity::FixedDof> fixed;
  hold(
      fixed, mesh, [](const Vec3& p) { return std::abs(p.x) < 1e-9; }, 0);
  hold(
      fixed, mesh, [](const Vec3& p) { return std::abs(p.y) < 1e-9; }, 1);
  hold(
      fixed, mesh, [](const Vec3& p) { return p.z < 1e-9; }, 2);
  return fixed;
}

double elliptic_membrane(int fine)
{
  mesh::BodyMesh mesh =
      block(equal_cells(1.0, 3 * fine), equal_cells(quarter_turn, 4 * fine), {0.0, 0.01});
  bend_to(mesh, [](const Vec3& p) {
    return Vec3{(2.0 + 1.25 * p.x) * std::cos(p.y), (1.0 + 1.75 * p.x) * std::sin(p.y), p.z};
  });
  const elasticity::Elasticity steel = elasticity::elasticity(210e9, 0.3);
  const elasticity::ElasticBody plate(
      mesh, [&](const mesh::Hex27&) { return steel; }, plane_stress(mesh));
  elasticity::NodeField load(mesh.nodes.size());
  add_traction(
      mesh, [](const Vec3& p) { return std::abs(std::hypot(p.x / 3.25, p.y / 2.75) - 1.0) < 1e-9; },
      [](const Vec3&, const Vec3& normal) { return 10e6 * normal; }, load);
  return corner_stress(mesh, 0, 0, 0, 0, steel, plate.solve(load))[1][1] / 1e6;
}

// Radii of the cells, mm: a small hole, fine cells at the spot's edge (1), the square's edge (in
// the directions of the axes) at 10. At its edge the spot swells out of the plane, which affects
// the solid over about its thickness, 0.01 mm; stresses are read farther out.
const std::vector<double> radii{0.02, 0.2,  0.6,  0.9, 0.96, 0.98, 0.99, 0.995, 1.0, 1.005, 1.01,
                                1.02, 1.04, 1.08, 1.2, 1.26, 1.4,  2.0,  2.8,   4.0, 6.0,   10.0};
constexpr std::size_t hot_cells = 8;

mesh::BodyMesh hot_plate()
{
  std::vector<double> index;
  for (std::size_t i = 0; i < radii.size(); ++i)
    index.push_back(static_cast<double>(i));
  mesh::BodyMesh mesh = block(index, equal_cells(quarter_turn, 8), {0.0, 0.005});
  bend_to(mesh, [](const Vec3& p) {
    const auto low = std::min(static_cast<std::size_t>(p.x), radii.size() - 2);
    const double share = p.x - static_cast<double>(low);
    double r = (1.0 - share) * radii[low] + share * radii[low + 1];
    // From the last circle outwards to the square.
    const double corner = 1.0 / std::max(std::cos(p.y), std::sin(p.y));
    if (r > 2.0)
      r *= 1.0 + (corner - 1.0) * (r - 2.0) / 8.0;
    return 1e-3 * Vec3{r * std::cos(p.y), r * std::sin(p.y), p.z};
  });
  return mesh;
}

} // namespace

BOOST_AUTO_TEST_SUITE(nafems_membranes)

// Thin, so that the stress is plane: 0.1 m thick, as the book has it, the middle of a solid is 1.6
// % above plane stress at D. LE1: 10 MPa outwards on the outer ellipse; stress yy at (2, 0): 92.7
// MPa.
BOOST_AUTO_TEST_CASE(le1_elliptic_membrane)
{
  const Source nafems{"NAFEMS membranes",
                      "The Standard NAFEMS Benchmarks, TNSB Rev. 3, 1990; LE1 as carried by the "
                      "examples of a general-purpose finite-element library."};
  const std::string why = "stress at a corner; fine quadratic runs of others: 92.66 to 92.70";
  check_row(nafems, {"le1-3x4", "LE1, elliptic membrane: stress yy at (2, 0), 3 x 4 cells", "MPa"},
            near(92.7, 0.03, "coarse; " + why), elliptic_membrane(1));
  check_row(nafems,
            {"le1-18x24", "LE1, elliptic membrane: stress yy at (2, 0), 18 x 24 cells", "MPa"},
            near(92.7, 0.005, why), elliptic_membrane(6));
}

BOOST_AUTO_TEST_CASE(t1_hot_spot)
{
  const mesh::BodyMesh mesh = hot_plate();
  const elasticity::Elasticity e = elasticity::elasticity(100e9, 0.3);
  const elasticity::CellElasticity everywhere = [&](const mesh::Hex27&) { return e; };
  // The strain jumps at the edge of the spot, so it is put on by cells.
  mesh::BodyMesh spot = mesh;
  std::erase_if(spot.cells, [&](const mesh::Hex27& cell) {
    const Vec3& middle = mesh.nodes[cell.node[13]];
    return std::hypot(middle.x, middle.y) > 1e-3;
  });
  const elasticity::NodeField forces = elasticity::free_strain_forces(
      spot, everywhere, std::vector<double>(mesh.nodes.size(), 1e-5 * 100.0));
  const elasticity::NodeField displacements =
      elasticity::ElasticBody(mesh, everywhere, plane_stress(mesh)).solve(forces);
  const Source nafems{
      "NAFEMS T1",
      "The Standard NAFEMS Benchmarks, TNSB Rev. 3, 1990 (from memory); Timoshenko "
      "and Goodier, Theory of Elasticity, hot disc in an infinite plate (recomputed)."};
  const std::string why = "a plate of 20 mm is not infinite: (R / L)^2 = 1 %";
  const auto hoop = [&](std::size_t cell) {
    return corner_stress(mesh, cell, 0, 0, 0, e, displacements)[1][1] / 1e6;
  };
  check_row(nafems,
            {"t1-edge", "T1, hot spot: stress yy at 1.04 radii, carried in by 1.04^2", "MPa"},
            near(50.0, 0.02, why), hoop(hot_cells + 4) * 1.04 * 1.04);
  check_row(nafems, {"t1-outside", "T1, hot spot: stress yy at 1.2 radii", "MPa"},
            near(34.72, 0.02, why), hoop(hot_cells + 6));
}

BOOST_AUTO_TEST_SUITE_END()
