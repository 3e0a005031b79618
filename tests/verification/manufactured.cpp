// SPDX-License-Identifier: GPL-3.0-or-later
// Manufactured solutions: prescribed fields, put into the kernels, and recovered with an error that
// shrinks at the cells' own order.
//
// Source: method of manufactured solutions (Roache, J. Fluids Engineering 124, 2002; from memory).
// Triquadratic cells: displacements and temperatures with the third power of the cell size (in the
// mean-square norm), stresses with the second (Strang and Fix, An Analysis of the Finite Element
// Method, from memory). The kernels have no heat source, so temperatures are harmonic; a
// conductivity that rises with temperature is taken at the mean of a cell, which is of second
// order.
#define BOOST_TEST_MODULE manufactured
#include <boost/test/unit_test.hpp>

#include "meshing/door/mesh_density.hpp"
#include "meshing/sweep/door_mesher.hpp"
#include "solver/elasticity/assembly.hpp"
#include "solver/elasticity/elastic_body.hpp"
#include "solver/elasticity/stress.hpp"
#include "solver/fe/cell_values.hpp"
#include "solver/fe/tensors.hpp"
#include "solver/heat/heat_equation.hpp"
#include "tests/support/book.hpp"
#include "tests/support/heat_tools.hpp"
#include "tests/support/kernel_tools.hpp"
#include "tests/support/test_doors.hpp"
#include "tests/support/test_meshes.hpp"

#include <deal.II/fe/fe_values.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <functional>
#include <map>
#include <numbers>
#include <set>

using namespace hangtrue;
using namespace hangtrue::test;

namespace
{

constexpr double pi = std::numbers::pi;
const Source roache{
    "Manufactured solutions",
    "Method of manufactured solutions (Roache, J. Fluids Engineering 124, 2002); "
    "orders by Strang and Fix, An Analysis of the Finite Element Method (from memory)."};

// A slab as flat as a door, m; its inner nodes perturbed, so that cells are distorted.
constexpr Vec3 size{0.75, 0.05, 0.9};

mesh::BodyMesh crooked_slab(int nx, int ny, int nz)
{
  mesh::BodyMesh mesh =
      block(equal_cells(size.x, nx), equal_cells(size.y, ny), equal_cells(size.z, nz));
  bend_to(mesh, [](const Vec3& p) {
    const double s =
        std::sin(pi * p.x / size.x) * std::sin(pi * p.y / size.y) * std::sin(pi * p.z / size.z);
    return p + s * Vec3{0.12 * size.x, -0.10 * size.y, 0.08 * size.z};
  });
  return mesh;
}

bool at_surface(const Vec3& p)
{
  return p.x < 1e-9 || p.y < 1e-9 || p.z < 1e-9 || p.x > size.x - 1e-9 || p.y > size.y - 1e-9 ||
         p.z > size.z - 1e-9;
}

Vec3 place_of(const fe::CellValues& at, unsigned q)
{
  return fe::vec3(at.fe.quadrature_point(q));
}

bool any(const mesh::Hex27&)
{
  return true;
}

using Field = std::function<double(const Vec3&)>;

// Mean-square error over the mean square of the field.
double heat_error(const mesh::BodyMesh& mesh, const std::vector<double>& found, const Field& exact)
{
  double error = 0.0;
  double all = 0.0;
  fe::visit_cells(mesh, any, [&](const fe::CellValues& at) {
    for (int q = 0; q < 27; ++q) {
      double t = 0.0;
      for (int n = 0; n < 27; ++n)
        t += at.fe.shape_value(n, q) * found[at.node[n]];
      const double theirs = exact(place_of(at, q));
      error += at.fe.JxW(q) * (t - theirs) * (t - theirs);
      all += at.fe.JxW(q) * theirs * theirs;
    }
  });
  return std::sqrt(error / all);
}

// Prescribes the field at the given nodes and solves for the rest.
double heat_error(const mesh::BodyMesh& mesh, const std::vector<int>& cache,
                  const heat::HeatMaterial& material, const Field& exact)
{
  heat::HeatProblem problem = problem_on(mesh, material);
  for (const int n : cache) {
    const double t = exact(mesh.nodes[n]);
    problem.prescribed.push_back({n, [t](double) { return t; }});
  }
  return heat_error(mesh, heat::HeatSolver(problem).steady(0.0, 100.0).value, exact);
}

std::vector<int> surface_nodes(const mesh::BodyMesh& mesh)
{
  std::vector<int> nodes;
  for (std::size_t n = 0; n < mesh.nodes.size(); ++n)
    if (at_surface(mesh.nodes[n]))
      nodes.push_back(static_cast<int>(n));
  return nodes;
}

// Nodes of all sides that no other cell shares. Of the swept mesh of a door these are more than its
// surface for heat: where a leaf lies on the face between its beads nothing is exchanged, and a
// field that is not constant there must be prescribed on both sides of the slit.
std::vector<int> free_nodes(const mesh::BodyMesh& mesh)
{
  constexpr std::array<int, 3> stride{1, 3, 9}; // node i + 3 j + 9 k
  std::map<int, int> met;                       // by the node in the middle of a side
  const auto each_side = [&](const auto& visit) {
    for (const auto& cell : mesh.cells)
      for (const int step : stride)
        for (const int end : {0, 2})
          visit(cell, step, end, cell.node[13 + (end - 1) * step]);
  };
  each_side([&](const mesh::Hex27&, int, int, int middle) { ++met[middle]; });
  std::set<int> free;
  each_side([&](const mesh::Hex27& cell, int step, int end, int middle) {
    for (int n = 0; n < 27; ++n)
      if (met[middle] == 1 && n / step % 3 == end)
        free.insert(cell.node[n]);
  });
  return {free.begin(), free.end()};
}

// Falls off through the depth, waves in the plane: harmonic.
double harmonic(const Vec3& p)
{
  return 200.0 * std::exp(-std::hypot(8.0, 6.0) * p.y) * std::cos(8.0 * p.x) * std::cos(6.0 * p.z);
}

void check_order(const std::string& id, const std::string& words, double order, double minimum,
                 const std::string& why)
{
  check_row(roache, {"order-" + id, words + ": observed order", ""}, at_least(minimum, why), order);
}

// u = A sin sin sin, zero on the surface, and the body force that makes it.
constexpr Vec3 amplitude{1e-3, -0.5e-3, 0.8e-3};

struct Errors {
  double move = 0.0;
  double stress = 0.0;
};

// Exact displacement gradient: slope[i][j] = d u_i / d x_j; and grad div u.
std::array<std::array<double, 3>, 3> slopes(const Vec3& p)
{
  const double a = pi / size.x;
  const double b = pi / size.y;
  const double c = pi / size.z;
  const Vec3 grad{a * std::cos(a * p.x) * std::sin(b * p.y) * std::sin(c * p.z),
                  b * std::sin(a * p.x) * std::cos(b * p.y) * std::sin(c * p.z),
                  c * std::sin(a * p.x) * std::sin(b * p.y) * std::cos(c * p.z)};
  const std::array<double, 3> amp{amplitude.x, amplitude.y, amplitude.z};
  const std::array<double, 3> g{grad.x, grad.y, grad.z};
  std::array<std::array<double, 3>, 3> result{};
  for (int i = 0; i < 3; ++i)
    for (int j = 0; j < 3; ++j)
      result[i][j] = amp[i] * g[j];
  return result;
}

Vec3 body_force(const elasticity::Elasticity& e, const Vec3& p)
{
  const std::array<double, 3> k{pi / size.x, pi / size.y, pi / size.z};
  const std::array<double, 3> s{std::sin(k[0] * p.x), std::sin(k[1] * p.y), std::sin(k[2] * p.z)};
  const std::array<double, 3> c{std::cos(k[0] * p.x), std::cos(k[1] * p.y), std::cos(k[2] * p.z)};
  const std::array<double, 3> amp{amplitude.x, amplitude.y, amplitude.z};
  const double all = s[0] * s[1] * s[2];
  const double squares = k[0] * k[0] + k[1] * k[1] + k[2] * k[2];
  std::array<double, 3> f{};
  for (int i = 0; i < 3; ++i) {
    f[i] = e.mu * squares * amp[i] * all;
    for (int j = 0; j < 3; ++j) { // - (lambda + mu) d2 u_j / (dx_i dx_j)
      const int other = 3 - i - j;
      const double second = i == j ? -k[i] * k[i] * all : k[i] * k[j] * c[i] * c[j] * s[other];
      f[i] -= (e.lambda + e.mu) * amp[j] * second;
    }
  }
  return {f[0], f[1], f[2]};
}

elasticity::Stress stress_of(const elasticity::Elasticity& e, const Vec3& p)
{
  const auto u = slopes(p);
  const double trace = e.lambda * (u[0][0] + u[1][1] + u[2][2]);
  elasticity::Stress stress;
  for (unsigned i = 0; i < 3; ++i)
    for (unsigned j = i; j < 3; ++j)
      stress[i][j] = e.mu * (u[i][j] + u[j][i]) + (i == j ? trace : 0.0);
  return stress;
}

Errors elastic_errors(int nx, int ny, int nz)
{
  const mesh::BodyMesh mesh = crooked_slab(nx, ny, nz);
  const elasticity::Elasticity e = elasticity::elasticity(200e9, 0.3);
  elasticity::NodeField load(mesh.nodes.size());
  fe::visit_cells(mesh, any, [&](const fe::CellValues& at) {
    for (int q = 0; q < 27; ++q) {
      const Vec3 f = body_force(e, place_of(at, q));
      for (int n = 0; n < 27; ++n)
        load[at.node[n]] += at.fe.JxW(q) * at.fe.shape_value(n, q) * f;
    }
  });
  const elasticity::NodeField found =
      elasticity::ElasticBody(
          mesh, [&](const mesh::Hex27&) { return e; }, elasticity::fix_all(surface_nodes(mesh)))
          .solve(load);
  double move = 0.0;
  double displacements = 0.0;
  double stress_error = 0.0;
  double all_stress = 0.0;
  fe::visit_cells(mesh, any, [&](const fe::CellValues& at) {
    const auto stress = elasticity::stresses(at, e, found);
    for (int q = 0; q < 27; ++q) {
      const Vec3 p = place_of(at, q);
      const double wave =
          std::sin(pi * p.x / size.x) * std::sin(pi * p.y / size.y) * std::sin(pi * p.z / size.z);
      Vec3 u;
      for (int n = 0; n < 27; ++n)
        u += at.fe.shape_value(n, q) * found[at.node[n]];
      const Vec3 off = u - wave * amplitude;
      move += at.fe.JxW(q) * dot(off, off);
      displacements += at.fe.JxW(q) * wave * wave * dot(amplitude, amplitude);
      const elasticity::Stress theirs = stress_of(e, p);
      stress_error += at.fe.JxW(q) * (stress[q] - theirs) * (stress[q] - theirs);
      all_stress += at.fe.JxW(q) * theirs * theirs;
    }
  });
  return {std::sqrt(move / displacements), std::sqrt(stress_error / all_stress)};
}

} // namespace

BOOST_AUTO_TEST_CASE(heat_on_distorted_cells)
{
  const auto error = [](int n) {
    const mesh::BodyMesh mesh = crooked_slab(n, n / 2, n);
    return heat_error(mesh, surface_nodes(mesh), plain(45.0, 1.0), harmonic);
  };
  const double coarse = error(4);
  const double fine = error(8);
  BOOST_TEST_MESSAGE("heat, crooked slab: " << coarse << ", " << fine);
  check_order("heat", "heat on a crooked slab 0.75 x 0.05 x 0.9 m, 4 x 2 x 4 and twice as many",
              std::log2(coarse / fine), 2.8, "third order");
}

// k = k0 (1 + beta T): Kirchhoff's T + beta T^2 / 2 is harmonic.
BOOST_AUTO_TEST_CASE(heat_with_rising_conductivity)
{
  constexpr double beta = 0.004;
  const Field exact = [](const Vec3& p) {
    return (std::sqrt(1.0 + 2.0 * beta * (300.0 + harmonic(p))) - 1.0) / beta;
  };
  const heat::HeatMaterial material{[](double t) { return 45.0 * (1.0 + beta * t); },
                                    [](double t) { return t; }, [](double) { return 1.0; }};
  const auto error = [&](int n) {
    const mesh::BodyMesh mesh = crooked_slab(n, n / 2, n);
    return heat_error(mesh, surface_nodes(mesh), material, exact);
  };
  const double coarse = error(4);
  const double fine = error(8);
  BOOST_TEST_MESSAGE("heat, rising conductivity: " << coarse << ", " << fine);
  check_order("heat-rising", "the same with a conductivity that rises threefold",
              std::log2(coarse / fine), 1.8, "conductivity by cells: second order");
}

// The swept mesh of a door: panel, rim, leaves and knuckles, curved cells, all of one material.
// Cells of level 1 are halved in all directions; spaces between fixed positions take whole numbers
// of cells.
BOOST_AUTO_TEST_CASE(heat_on_a_swept_door)
{
  const auto error = [](int times) {
    const door::Door door = barrel_door();
    door::MeshDensity fine = door::mesh_density(door, 1);
    fine.panel_cell /= times;
    fine.hinge_cell /= times;
    fine.along_knuckle *= times;
    fine.around_pin *= times;
    fine.across_rim = times;
    fine.through_wall = times;
    fine.through_ring = times;
    fine.through_cavity = times;
    const mesh::Mesh mesh = sweep::make_mesh(door, fine);
    return heat_error(mesh.door, free_nodes(mesh.door), plain(45.0, 1.0), harmonic);
  };
  const double coarse = error(1);
  const double fine = error(2);
  BOOST_TEST_MESSAGE("heat, lofted door: " << coarse << ", " << fine);
  check_order("heat-loft", "heat on a lofted door with hinges, cells of level 1 and half of them",
              std::log2(coarse / fine), 2.5,
              "third order; the loft's cells do not halve everywhere");
}

BOOST_AUTO_TEST_CASE(elastic_on_distorted_cells)
{
  const Errors coarse = elastic_errors(4, 4, 4);
  const Errors fine = elastic_errors(8, 8, 8);
  BOOST_TEST_MESSAGE("elastic, crooked slab: movement " << coarse.move << ", " << fine.move
                                                        << "; stress " << coarse.stress << ", "
                                                        << fine.stress);
  const std::string words =
      "elastic slab 0.75 x 0.05 x 0.9 m, 4 x 4 x 4 crooked cells and twice as many";
  check_order("move", words + ", movement", std::log2(coarse.move / fine.move), 2.7,
              "third order, from below");
  check_order("stress", words + ", stress", std::log2(coarse.stress / fine.stress), 1.8,
              "second order");
}

// Uniform heat on the swept mesh of a whole door, hinges and all, causes no stress and makes it
// larger: a linear displacement, which isoparametric cells represent exactly however curved they
// are.
BOOST_AUTO_TEST_CASE(uniform_heat_on_a_swept_door)
{
  door::Door door = lug_door();
  door::MeshDensity fine = door::mesh_density(door, 1);
  fine.panel_cell = door.panel.width / 4.0;
  fine.around_pin = 12;
  const mesh::Mesh mesh = sweep::make_mesh(door, fine);
  const elasticity::Elasticity e = elasticity::elasticity(200e9, 0.3);
  const elasticity::CellElasticity steel = [&](const mesh::Hex27&) { return e; };
  const std::vector<double> strain(mesh.door.nodes.size(), 1e-3);
  const elasticity::NodeField u =
      elasticity::ElasticBody(mesh.door, steel, elasticity::isostatic_supports(mesh.door))
          .solve(elasticity::free_strain_forces(mesh.door, steel, strain));
  double worst = 0.0;
  fe::visit_cells(mesh.door, fe::is_steel, [&](const fe::CellValues& at) {
    for (const elasticity::Stress& stress : elasticity::stresses(at, e, u))
      worst = std::max(worst, (stress - 500e6 * dealii::unit_symmetric_tensor<3>()).norm());
  });
  check_row(roache,
            {"even-heat-loft", "even heat on a lofted door: worst stress, of a held body's", ""},
            at_most(1e-7, "rounding; thin walls make the factor lose digits"), worst / 500e6);
  const double w = door.panel.width;
  const int far = nearest_node(mesh.door, {w, mesh.depth, 0.0});
  const int near_edge = nearest_node(mesh.door, {0.0, mesh.depth, 0.0});
  check_row(roache, {"even-heat-loft-growth", "the same: growth of the door's width", "m"},
            near(1e-3 * w, 1e-6, "rounding"), u[far].x - u[near_edge].x);
}
