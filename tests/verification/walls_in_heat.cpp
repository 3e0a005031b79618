// SPDX-License-Identifier: GPL-3.0-or-later
// Walls of the shop: slabs that heat up, layered walls, radiation.
//
// Sources: Incropera, Fundamentals of Heat and Mass Transfer (from memory, recomputed), table 5.1
// and a wall problem (secondary text); ASTM C680: surface temperatures by iteration with the
// integral mean conductivity of every layer.
#include <boost/test/unit_test.hpp>

#include "solver/heat/surface_flux.hpp"
#include "solver/material/insulation_properties.hpp"
#include "tests/support/book.hpp"
#include "tests/support/heat_tools.hpp"
#include "tests/support/kernel_tools.hpp"

#include <algorithm>
#include <cmath>

using namespace hangtrue;
using namespace hangtrue::test;

namespace
{

const Source incropera{
    "Incropera", "Incropera, Fundamentals of Heat and Mass Transfer (from memory, recomputed)."};

// Layers along x, each of its own material, with `inside`, degC, prescribed at x = 0.
heat::HeatProblem layered(const mesh::BodyMesh& mesh, const std::vector<double>& ends,
                          const std::vector<heat::HeatMaterial>& materials)
{
  heat::HeatProblem problem = problem_on(mesh, materials.front());
  problem.materials = materials;
  problem.material_of = [&mesh, ends](const mesh::Hex27& cell) {
    int layer = 0;
    while (mesh.nodes[cell.node[13]].x > ends[layer])
      ++layer;
    return layer;
  };
  return problem;
}

} // namespace

BOOST_AUTO_TEST_SUITE(walls_in_heat)

// Slab of half thickness L under a film on both sides, Bi = 1: first root 0.8603, C = 1.1191;
// middle at Fo = 1: C exp(-0.8603^2) = 0.5339. The other terms are below 1e-5.
BOOST_AUTO_TEST_CASE(slab_under_a_film)
{
  const mesh::BodyMesh mesh = bar(1.0, 10); // x = 0 is the middle
  heat::HeatProblem problem = problem_on(mesh, plain(1.0, 1.0));
  ends_as_faces(problem, 1.0);
  problem.flux = [](int kind, const Vec3&, double t, double) {
    return kind == 1 ? heat::SurfaceFlux{-t, -1.0} : heat::SurfaceFlux{};
  };
  double middle = 0.0;
  double surface = 0.0;
  heat::HeatSolver(problem).transient(std::vector<double>(mesh.nodes.size(), 1.0), 0.0, 1.0, 1e-5,
                                      {}, [&](double, const heat::TemperatureField& t) {
                                        middle = t.value[nearest_node(mesh, {0.0, 0.0, 0.0})];
                                        surface = t.value[nearest_node(mesh, {1.0, 0.0, 0.0})];
                                      });
  const double theirs = 1.1191 * std::exp(-0.8603 * 0.8603);
  check_row(incropera, {"slab-middle", "slab, Bi = 1, Fo = 1: middle, of the start", ""},
            near(theirs, 0.001, "four digits of root and factor"), middle);
  check_row(incropera, {"slab-surface", "slab, Bi = 1, Fo = 1: surface, of the start", ""},
            near(theirs * std::cos(0.8603), 0.001, "four digits of root and factor"), surface);
}

// Lumped: steel 3/16 in, rho c 7850 x 500, h 10 on one side: 1/e after rho c t / h = 1869 s.
BOOST_AUTO_TEST_CASE(lumped_plate)
{
  const double thick = 0.0047625;
  const mesh::BodyMesh mesh = bar(thick, 2);
  heat::HeatProblem problem = problem_on(mesh, plain(45.0, 7850.0 * 500.0));
  ends_as_faces(problem, thick);
  problem.flux = [](int kind, const Vec3&, double t, double) {
    return kind == 1 ? heat::SurfaceFlux{-10.0 * t, -10.0} : heat::SurfaceFlux{};
  };
  double last = 0.0;
  heat::HeatSolver(problem).transient(
      std::vector<double>(mesh.nodes.size(), 100.0), 0.0, 1869.0, 1e-3, {},
      [&](double, const heat::TemperatureField& t) { last = t.value[0]; });
  check_row(incropera,
            {"lumped-plate", "steel 3/16 in cooling by h 10 on one side, after 1869 s", "degC"},
            near(100.0 / std::exp(1.0), 0.001, "Bi = 0.001, and the digits of 1869"), last);
}

// Oven wall: k 20 over 0.3 m, 1.53 over 0.15 m, 50 over 0.15 m, faces at 600 and 20 degC: 5000
// W/m2.
BOOST_AUTO_TEST_CASE(wall_of_three_layers)
{
  const mesh::BodyMesh mesh = block({0.0, 0.15, 0.3, 0.45, 0.6}, {0.0, 0.01}, {0.0, 0.01});
  heat::HeatProblem problem =
      layered(mesh, {0.3, 0.45, 0.6}, {plain(20.0, 1.0), plain(1.53, 1.0), plain(50.0, 1.0)});
  keep_plane(problem, 0.0, [](double) { return 600.0; });
  ends_as_faces(problem, 0.6);
  // So stiff a film that the face is at 20 degC.
  problem.flux = [](int kind, const Vec3&, double t, double) {
    return kind == 1 ? heat::SurfaceFlux{-1e9 * (t - 20.0), -1e9} : heat::SurfaceFlux{};
  };
  const heat::TemperatureField t = heat::HeatSolver(problem).steady(0.0, 300.0);
  check_row(
      incropera, {"oven-wall", "oven wall of three layers: heat flux (secondary text)", "W/m2"},
      near(5000.0, 0.002, "the middle layer's 1.53 is rounded from 1.5306"), -t.through[1] / 1e-4);
}

// 75 mm ceramic fibre, then 50 mm mineral wool, by the program's own tables, 600 degC inside, room
// 20 degC, film 5, emissivity 0.8. Reference by iteration over the layers, with the exact integral
// of k.
BOOST_AUTO_TEST_CASE(wall_by_rounds)
{
  const material::InsulationTable& hot = material::insulation_table("ceramic fibre");
  const material::InsulationTable& mild = material::insulation_table("mineral wool");
  // Integral of k from 0 degC by fine steps of the trapezium rule, exact but for kinks.
  const auto through = [](const material::InsulationTable& table, double from, double to) {
    double sum = 0.0;
    constexpr int steps = 4000;
    for (int i = 0; i < steps; ++i)
      sum += material::conductivity_of(table, from + (to - from) * (i + 0.5) / steps) *
             (to - from) / steps;
    return sum;
  };
  const auto leaves = [](double t) { return -heat::exchange(t, 20.0, 5.0, 0.8).into; };
  // Outside temperature at which all three flows agree: bisection, with the interface temperature
  // inside it.
  double low = 20.0;
  double high = 200.0;
  double interface = 0.0;
  for (int i = 0; i < 60; ++i) {
    const double outside = 0.5 * (low + high);
    double cold = outside;
    double warm = 600.0;
    for (int k = 0; k < 60; ++k) {
      interface = 0.5 * (cold + warm);
      (through(hot, interface, 600.0) / 0.075 > through(mild, outside, interface) / 0.050 ? cold
                                                                                          : warm) =
          interface;
    }
    (through(mild, outside, interface) / 0.050 > leaves(outside) ? low : high) = outside;
  }
  const mesh::BodyMesh mesh = block(
      [] {
        auto x = equal_cells(0.075, 30);
        for (int i = 1; i <= 20; ++i)
          x.push_back(0.075 + 0.0025 * i);
        return x;
      }(),
      {0.0, 0.01}, {0.0, 0.01});
  const auto material = [](const material::InsulationTable& table) {
    return heat::HeatMaterial{[&table](double t) { return material::conductivity_of(table, t); },
                              [](double t) { return t; }, [](double) { return 1.0; }};
  };
  heat::HeatProblem problem = layered(mesh, {0.075, 0.125}, {material(hot), material(mild)});
  keep_plane(problem, 0.0, [](double) { return 600.0; });
  ends_as_faces(problem, 0.125);
  problem.flux = [](int kind, const Vec3&, double t, double) {
    return kind == 1 ? heat::exchange(t, 20.0, 5.0, 0.8) : heat::SurfaceFlux{};
  };
  const heat::TemperatureField t = heat::HeatSolver(problem).steady(0.0, 300.0);
  const Source rounds{"ASTM C680", "The procedure of ASTM C680: rounds over the layers with the "
                                   "integral mean conductivity, surface film and radiation (own "
                                   "working of it)."};
  const std::string why = "conductivity at the mean of a cell of 2.5 mm";
  check_row(rounds, {"c680-outside", "ceramic fibre and mineral wool: outside", "degC"},
            within(low, 0.05, why), t.value[nearest_node(mesh, {0.125, 0.0, 0.0})]);
  check_row(rounds, {"c680-joint", "ceramic fibre and mineral wool: joint", "degC"},
            within(interface, 0.5, why), t.value[nearest_node(mesh, {0.075, 0.0, 0.0})]);
  check_row(rounds, {"c680-flux", "ceramic fibre and mineral wool: heat flux", "W/m2"},
            near(leaves(low), 0.002, why), -t.through[1] / 1e-4);
}

BOOST_AUTO_TEST_CASE(radiation_as_a_film)
{
  const Source law{"Radiation",
                   "Grey parallel plates, Stefan and Boltzmann's law (textbook; recomputed)."};
  check_row(
      law, {"radiation-film", "emissivity 0.8, 100 degC to 20: radiation as a film", "W/(m2 K)"},
      within(6.806, 5e-4, "digits printed"), -heat::exchange(100.0, 20.0, 0.0, 0.8).into / 80.0);
  // Parallel plates of emissivity e with still air between: k / across + 4 sigma T^3 / (2 / e - 1).
  const double t = 300.0 + 273.15;
  check_row(law, {"hollow-tube", "30 mm hollow at 300 degC, e 0.8: conductivity", "W/(m K)"},
            near(heat::air_at(t).conductivity + 4.0 * 5.670374e-8 * t * t * t * 0.030 / 1.5, 1e-6,
                 "the digits of sigma"),
            heat::hollow_conductivity(300.0, 0.030, 0.8));
}

BOOST_AUTO_TEST_SUITE_END()
