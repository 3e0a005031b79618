// SPDX-License-Identifier: GPL-3.0-or-later
// The elastic kernel on its own: a constant stress must come out constant on any mesh.
//
// Source: patch test (Irons; MacNeal and Harder give it for solids): to rounding on cells of any
// straight-edged shape, which the 3 x 3 x 3 rule integrates exactly. Band 1e-9 of the stress:
// rounding through a factorisation.
#define BOOST_TEST_MODULE elastic_kernel
#include <boost/test/unit_test.hpp>

#include "solver/elasticity/assembly.hpp"
#include "solver/elasticity/elastic_body.hpp"
#include "solver/elasticity/stress.hpp"
#include "solver/fe/cell_values.hpp"
#include "solver/fe/tensors.hpp"
#include "tests/support/book.hpp"
#include "tests/support/kernel_tools.hpp"
#include "tests/support/test_meshes.hpp"

#include <array>
#include <cmath>
#include <random>

using namespace hangtrue;
using namespace hangtrue::test;

namespace
{

const Source irons{"Patch test",
                   "Irons' patch test, as MacNeal and Harder give it for solids (from memory)."};
const Source free_growth{"Timoshenko free growth",
                         "Timoshenko and Goodier, Theory of Elasticity; Timoshenko and "
                         "Woinowsky-Krieger, Theory of Plates and Shells (from memory)."};
constexpr const char* rounding = "rounding through a factorisation";

// Two cells a side; corners inside and on the faces perturbed within their faces, everything else
// at the middles of straight edges.
mesh::BodyMesh crooked_block()
{
  mesh::BodyMesh mesh = block(equal_cells(1.0, 2), equal_cells(1.0, 2), equal_cells(1.0, 2));
  std::mt19937 random(3);
  std::uniform_real_distribution<double> contact_force(-0.15, 0.15);
  std::array<std::array<std::array<Vec3, 3>, 3>, 3> corner{};
  for (int k = 0; k < 3; ++k)
    for (int j = 0; j < 3; ++j)
      for (int i = 0; i < 3; ++i)
        corner[i][j][k] = {0.5 * i + (i == 1 ? contact_force(random) : 0.0),
                           0.5 * j + (j == 1 ? contact_force(random) : 0.0),
                           0.5 * k + (k == 1 ? contact_force(random) : 0.0)};
  bend_to(mesh, [&](const Vec3& p) {
    const auto cell = [](double x) { return x < 0.5 ? 0 : 1; };
    const int i = cell(p.x);
    const int j = cell(p.y);
    const int k = cell(p.z);
    const double a = 2.0 * p.x - i;
    const double b = 2.0 * p.y - j;
    const double c = 2.0 * p.z - k;
    Vec3 place;
    for (int n = 0; n < 8; ++n) {
      const int di = n % 2;
      const int dj = (n / 2) % 2;
      const int dk = n / 4;
      const double w = (di ? a : 1.0 - a) * (dj ? b : 1.0 - b) * (dk ? c : 1.0 - c);
      place += w * corner[i + di][j + dj][k + dk];
    }
    return place;
  });
  return mesh;
}

} // namespace

BOOST_AUTO_TEST_SUITE(patch_test)

BOOST_AUTO_TEST_CASE(constant_stress)
{
  const mesh::BodyMesh mesh = crooked_block();
  const elasticity::Elasticity steel = elasticity::elasticity(200e9, 0.3);
  const elasticity::ElasticBody body(
      mesh, [&](const mesh::Hex27&) { return steel; }, elasticity::isostatic_supports(mesh));
  elasticity::Stress requested;
  requested[0][0] = 30e6;
  requested[1][1] = -20e6;
  requested[2][2] = 50e6;
  requested[1][2] = 7e6;
  requested[0][2] = -11e6;
  requested[0][1] = 13e6;
  elasticity::NodeField load(mesh.nodes.size());
  for (int axis = 0; axis < 3; ++axis)
    for (const double position : {0.0, 1.0})
      add_traction(
          mesh,
          [&](const Vec3& p) {
            const std::array<double, 3> x{p.x, p.y, p.z};
            return std::abs(x[axis] - position) < 1e-12;
          },
          [&](const Vec3&, const Vec3& n) { return fe::vec3(requested * fe::tensor(n)); }, load);
  const elasticity::NodeField displacements = body.solve(load);
  double worst = 0.0;
  fe::visit_cells(mesh, fe::is_steel, [&](const fe::CellValues& at) {
    for (const elasticity::Stress& s : elasticity::stresses(at, steel, displacements))
      worst = std::max(worst, (s - requested).norm());
  });
  check_row(irons,
            {"patch-test", "constant stress on crooked cells: worst error, of the stress", ""},
            at_most(1e-9, rounding), worst / 50e6);
}

// Greatest stress, Pa, of a body with displacements `displacements` and free strain `strain`.
double worst_stress(const mesh::BodyMesh& mesh, const elasticity::Elasticity& e,
                    const elasticity::NodeField& displacements, const std::vector<double>& strain)
{
  double worst = 0.0;
  fe::visit_cells(mesh, fe::is_steel, [&](const fe::CellValues& at) {
    const auto stress = elasticity::stresses(at, e, displacements);
    const auto free = fe::values(at, strain);
    for (unsigned q = 0; q < fe::quadrature_points; ++q)
      worst = std::max(worst, (stress[q] - elasticity::free_strain_stress(e, free[q])).norm());
  });
  return worst;
}

// Uniform heat strains a free body uniformly and causes no stress (Timoshenko and Goodier, Theory
// of Elasticity). Band 1e-9 of the stress of a fully restrained body, 500 MPa here.
BOOST_AUTO_TEST_CASE(uniform_heat_stresses_nothing)
{
  const mesh::BodyMesh mesh = crooked_block();
  const elasticity::Elasticity steel = elasticity::elasticity(200e9, 0.3);
  const elasticity::CellElasticity everywhere = [&](const mesh::Hex27&) { return steel; };
  const elasticity::ElasticBody body(mesh, everywhere, elasticity::isostatic_supports(mesh));
  const std::vector<double> strain(mesh.nodes.size(), 1e-3);
  const elasticity::NodeField displacements =
      body.solve(elasticity::free_strain_forces(mesh, everywhere, strain));
  check_row(free_growth,
            {"even-heat", "even heat on a free body: worst stress, of a held body's", ""},
            at_most(1e-9, rounding), worst_stress(mesh, steel, displacements, strain) / 500e6);
  const double grown = norm(displacements[nearest_node(mesh, {1.0, 1.0, 1.0})] -
                            displacements[nearest_node(mesh, {0.0, 0.0, 0.0})]);
  check_row(free_growth,
            {"even-heat-growth", "even heat on a free cube: growth of its diagonal", "m"},
            near(1e-3 * std::sqrt(3.0), 1e-9, rounding), grown);
}

// A temperature linear through the depth bows a free plate into a spherical cap without stress:
// middle against corners alpha dT (W^2 + H^2) / (8 d) (Timoshenko and Woinowsky-Krieger, Theory of
// Plates and Shells, from memory). The displacement is quadratic, so straight cells represent it
// exactly.
BOOST_AUTO_TEST_CASE(a_linear_temperature_bows_a_free_plate)
{
  const elasticity::Elasticity steel = elasticity::elasticity(200e9, 0.3);
  const elasticity::CellElasticity everywhere = [&](const mesh::Hex27&) { return steel; };
  const mesh::BodyMesh mesh = block(equal_cells(1.0, 2), equal_cells(0.3, 1), equal_cells(0.8, 2));
  const elasticity::ElasticBody plate(mesh, everywhere, elasticity::isostatic_supports(mesh));
  std::vector<double> strain;
  for (const auto& p : mesh.nodes)
    strain.push_back(1e-3 * p.y / 0.3);
  const elasticity::NodeField displacements =
      plate.solve(elasticity::free_strain_forces(mesh, everywhere, strain));
  check_row(
      free_growth,
      {"even-gradient", "even gradient through a free plate: worst stress, of a held body's", ""},
      at_most(1e-9, rounding), worst_stress(mesh, steel, displacements, strain) / 500e6);
  double bow = displacements[nearest_node(mesh, {0.5, 0.15, 0.4})].y;
  for (const double x : {0.0, 1.0})
    for (const double z : {0.0, 0.8})
      bow -= 0.25 * displacements[nearest_node(mesh, {x, 0.15, z})].y;
  const double formula = 1e-3 * (1.0 + 0.64) / (8.0 * 0.3);
  check_row(free_growth,
            {"even-gradient-bow", "free plate, even gradient: middle against corners", "m"},
            near(formula, 1e-9, "a quadratic movement, which the cells hold exactly"), bow);
}

BOOST_AUTO_TEST_SUITE_END()
