// SPDX-License-Identifier: GPL-3.0-or-later
// The conduction kernel against published benchmarks and closed forms. One block of 27-node cells
// each; the kernel is the one that heats doors.
#define BOOST_TEST_MODULE conduction
#include <boost/test/unit_test.hpp>

#include "solver/heat/heat_equation.hpp"
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

const Source nafems{"NAFEMS heat",
                    "The Standard NAFEMS Benchmarks, TNSB Rev. 3, 1990 (T2 from memory); exact "
                    "roots and series recomputed."};
const Source carslaw{"Carslaw and Jaeger",
                     "Carslaw and Jaeger, Conduction of Heat in Solids (from memory, recomputed)."};
const Source walls{
    "Series resistances",
    "Plane wall with film and radiation outside by series resistances, the procedure of "
    "ASTM C680 with a fixed film coefficient; recomputed."};
const Source incropera{
    "Incropera", "Incropera, Fundamentals of Heat and Mass Transfer (from memory, recomputed)."};

constexpr double kelvin = 273.15;

double radiated(double sigma, double eps, double t, double to)
{
  return eps * sigma * (std::pow(t + kelvin, 4) - std::pow(to + kelvin, 4));
}

} // namespace

// NAFEMS T2 (The Standard NAFEMS Benchmarks, Rev. 3, 1990; target from memory 927.0 K): bar 0.1 m,
// 1000 K at one end, radiating to 300 K at the other, eps 0.98, sigma 5.67e-8, k 55.6. Root of k
// (1000 - T) / L = eps sigma (T^4 - 300^4): 927.01 K. Band 0.01 K.
BOOST_AUTO_TEST_CASE(nafems_t2)
{
  const mesh::BodyMesh mesh = bar(0.1, 2);
  heat::HeatProblem problem = problem_on(mesh, plain(55.6, 1.0));
  keep_plane(problem, 0.0, [](double) { return 1000.0 - kelvin; });
  ends_as_faces(problem, 0.1);
  problem.flux = [](int kind, const Vec3&, double t, double) {
    if (kind == 0)
      return heat::SurfaceFlux{};
    const double sigma = 5.67e-8;
    return heat::SurfaceFlux{-radiated(sigma, 0.98, t, 300.0 - kelvin),
                             -4.0 * 0.98 * sigma * std::pow(t + kelvin, 3)};
  };
  const heat::TemperatureField t = heat::HeatSolver(problem).steady(0.0, 500.0);
  const double end = t.value[nearest_node(mesh, {0.1, 0.0, 0.0})] + kelvin;
  check_row(nafems, {"t2", "T2, bar with radiation (root of the balance): end", "K"},
            within(927.01, 0.01, "the root's digits; book 927.0"), end);
  BOOST_TEST(t.imbalance < 1e-6);
}

// NAFEMS T3: bar 0.1 m, k 35, c 440.5, rho 7200, T(0, t) = 100 sin(pi t / 40), T(L) = 0; T(0.02 m,
// 32 s) = 36.60 degC published, exact series 36.6031. Band 0.5 %; order in time from three step
// controls.
BOOST_AUTO_TEST_CASE(nafems_t3)
{
  const mesh::BodyMesh mesh = bar(0.1, 20);
  heat::HeatProblem problem = problem_on(mesh, plain(35.0, 440.5 * 7200.0));
  keep_plane(problem, 0.0, [](double t) { return 100.0 * std::sin(std::numbers::pi * t / 40.0); });
  keep_plane(problem, 0.1, [](double) { return 0.0; });
  const heat::HeatSolver solver(problem);
  const int index = nearest_node(mesh, {0.02, 0.0, 0.0});
  auto run = [&](double tolerance, int& steps) {
    double found = 0.0;
    steps = 0;
    solver.transient(std::vector<double>(mesh.nodes.size(), 0.0), 0.0, 32.0, tolerance, {},
                     [&](double, const heat::TemperatureField& t) {
                       found = t.value[index];
                       ++steps;
                       BOOST_TEST(t.imbalance < 1e-6);
                     });
    return found;
  };
  int coarse_steps = 0;
  int fine_steps = 0;
  const double coarse = run(0.4, coarse_steps);
  const double fine = run(0.004, fine_steps);
  const double order = std::log(std::abs(coarse - 36.6031) / std::abs(fine - 36.6031)) /
                       std::log(static_cast<double>(fine_steps) / coarse_steps);
  BOOST_TEST_MESSAGE("T3: 36.60 published, " << coarse << " in " << coarse_steps << " steps, "
                                             << fine << " in " << fine_steps << " steps; order "
                                             << order);
  check_row(nafems,
            {"t3", "T3, bar with a swinging end: 0.02 m, 32 s (series), fine steps", "degC"},
            near(36.6031, 0.005, "20 cells; book 36.60"), fine);
  check_row(nafems, {"t3-coarse", "T3 in a sixth of the steps", "degC"},
            near(36.6031, 0.02, "few steps"), coarse);
  check_row(nafems, {"t3-order", "T3: observed order in time", ""},
            between(1.8, 3.2, "second order; above it where the space error is of the other sign"),
            order);
}

// NAFEMS T4: plate 0.6 x 1.0 m, k 52, short edge at 100 degC, x = 0 edge insulated, the others
// convect h 750 to 0 degC; T(0.6, 0.2) = 18.3 degC published, exact series 18.2538. Band 0.1 degC
// (singular corner).
BOOST_AUTO_TEST_CASE(nafems_t4)
{
  auto run = [](int cells) {
    // Here the plate's y is z of the mesh, so that the mesh is graded nowhere.
    const mesh::BodyMesh mesh =
        block(equal_cells(0.6, 3 * cells), {0.0, 0.1}, equal_cells(1.0, 5 * cells));
    heat::HeatProblem problem = problem_on(mesh, plain(52.0, 1.0));
    for (std::size_t n = 0; n < mesh.nodes.size(); ++n)
      if (mesh.nodes[n].z < 1e-9)
        problem.prescribed.push_back({static_cast<int>(n), [](double) { return 100.0; }});
    problem.faces = heat::outer_faces(
        mesh, problem.conducts, [](const mesh::Hex27&, const Vec3& m, const Vec3&) {
          return std::abs(m.x - 0.6) < 1e-9 || std::abs(m.z - 1.0) < 1e-9 ? 0 : -1;
        });
    problem.flux = [](int, const Vec3&, double t, double) {
      return heat::SurfaceFlux{-750.0 * t, -750.0};
    };
    return heat::HeatSolver(problem).steady(0.0, 50.0).value[nearest_node(mesh, {0.6, 0.0, 0.2})];
  };
  const double coarse = run(1);
  const double medium = run(2);
  const double fine = run(4);
  BOOST_TEST_MESSAGE("T4: 18.3 published (exact 18.2538), " << coarse << ", " << medium << ", "
                                                            << fine);
  check_row(nafems, {"t4", "T4, plate with convection: (0.6, 0.2) (series)", "degC"},
            within(18.2538, 0.1, "singular corner; book 18.3"), fine);
  BOOST_TEST(std::abs(fine - 18.2538) < std::abs(coarse - 18.2538));
}

// Semi-infinite solid, step at the surface (Carslaw and Jaeger, Conduction of Heat in Solids):
// steel k 45, rho c 7850 x 500; x = 0.05 m, t = 600 s: erfc(x / 2 sqrt(a t)) = 0.66991. Bar 0.6 m >
// 4 sqrt(a t). Convection h 50: surface 0.096048, x = 0.05: 0.053890. Flux 10 kW/m2: surface
// rise 20.797 K. Band 0.5 %.
BOOST_AUTO_TEST_CASE(semi_infinite_solid)
{
  const mesh::BodyMesh mesh = bar(0.6, 60);
  const int inside = nearest_node(mesh, {0.05, 0.0, 0.0});
  const int surface = nearest_node(mesh, {0.0, 0.0, 0.0});
  const std::vector<double> cold(mesh.nodes.size(), 0.0);
  auto run = [&](heat::HeatProblem problem, double& at_surface, double& at_inside) {
    heat::HeatSolver(std::move(problem))
        .transient(cold, 0.0, 600.0, 0.001, {}, [&](double, const heat::TemperatureField& t) {
          at_surface = t.value[surface];
          at_inside = t.value[inside];
        });
  };
  double s = 0.0;
  double x = 0.0;
  heat::HeatProblem step = problem_on(mesh, plain(45.0, 7850.0 * 500.0));
  keep_plane(step, 0.0, [](double) { return 1.0; });
  run(step, s, x);
  const std::string why = "10 mm cells, steps to 1e-3 K";
  check_row(carslaw, {"half-space-step", "half space, step at the surface: 0.05 m, 600 s", ""},
            near(0.66991, 0.005, why), x);

  heat::HeatProblem convection = problem_on(mesh, plain(45.0, 7850.0 * 500.0));
  ends_as_faces(convection, 0.6);
  convection.flux = [](int kind, const Vec3&, double t, double) {
    return kind == 0 ? heat::SurfaceFlux{50.0 * (1.0 - t), -50.0} : heat::SurfaceFlux{};
  };
  run(convection, s, x);
  check_row(carslaw, {"half-space-film-surface", "half space under a film: surface, 600 s", ""},
            near(0.096048, 0.005, why), s);
  check_row(carslaw, {"half-space-film-inside", "half space under a film: 0.05 m, 600 s", ""},
            near(0.053890, 0.005, why), x);

  heat::HeatProblem flux = problem_on(mesh, plain(45.0, 7850.0 * 500.0));
  ends_as_faces(flux, 0.6);
  flux.flux = [](int kind, const Vec3&, double, double) {
    return kind == 0 ? heat::SurfaceFlux{1.0e4, 0.0} : heat::SurfaceFlux{};
  };
  run(flux, s, x);
  check_row(carslaw, {"half-space-flux", "half space, 10 kW/m2: surface rise, 600 s", "K"},
            near(20.797, 0.005, why), s);
}

// Plane wall with natural exchange outside (series resistances, the procedure of ASTM C680 with
// fixed film coefficient): k 0.12, L 0.1 m, 600 degC inside, 20 outside, h 5, eps 0.8:
// surface 76.694 degC, 627.97 W/m2; with k = 0.03 + 2e-4 T: 67.647 degC, 515.13 W/m2.
// sigma 5.670374e-8. Band 0.01 degC.
BOOST_AUTO_TEST_CASE(plane_wall_with_radiation)
{
  const mesh::BodyMesh mesh = bar(0.1, 40);
  auto run = [&](const heat::HeatMaterial& material) {
    heat::HeatProblem problem = problem_on(mesh, material);
    keep_plane(problem, 0.0, [](double) { return 600.0; });
    ends_as_faces(problem, 0.1);
    problem.flux = [](int kind, const Vec3&, double t, double) {
      const double sigma = 5.670374e-8;
      if (kind == 0)
        return heat::SurfaceFlux{};
      return heat::SurfaceFlux{-5.0 * (t - 20.0) - radiated(sigma, 0.8, t, 20.0),
                               -5.0 - 4.0 * 0.8 * sigma * std::pow(t + kelvin, 3)};
    };
    return heat::HeatSolver(problem).steady(0.0, 300.0);
  };
  const int outside = nearest_node(mesh, {0.1, 0.0, 0.0});
  const heat::TemperatureField fixed = run(plain(0.12, 1.0));
  const std::string digits = "digits printed";
  check_row(walls, {"wall-fixed-k", "wall of fixed conductivity: outside", "degC"},
            within(76.694, 0.01, digits), fixed.value[outside]);
  check_row(walls, {"wall-fixed-k-flux", "the same: heat flux", "W/m2"},
            within(627.97, 0.1, digits), -fixed.through[1] / 1e-4);
  const heat::TemperatureField varying =
      run({[](double t) { return 0.03 + 2e-4 * t; }, [](double t) { return t; },
           [](double) { return 1.0; }});
  check_row(walls, {"wall-varying-k", "wall whose conductivity rises: outside", "degC"},
            within(67.647, 0.01, digits), varying.value[outside]);
  check_row(walls, {"wall-varying-k-flux", "the same: heat flux", "W/m2"},
            within(515.13, 0.1, digits), -varying.through[1] / 1e-4);
  BOOST_TEST(varying.imbalance < 1e-6);
}

// Plate fin (Incropera, Fundamentals of Heat and Mass Transfer, adiabatic tip; recomputed): 3/16 in
// steel, h 10 on both sides, k 45, L 0.1 m: m = 9.660 per m, tip 0.6649 of the base, efficiency
// 0.7732. Band 0.5 %: the fin formula knows no gradient through the thickness.
BOOST_AUTO_TEST_CASE(plate_fin)
{
  const double t = 0.0047625;
  const mesh::BodyMesh mesh = block(equal_cells(0.1, 10), {0.0, t}, {0.0, 0.05});
  heat::HeatProblem problem = problem_on(mesh, plain(45.0, 1.0));
  keep_plane(problem, 0.0, [](double) { return 1.0; });
  problem.faces =
      heat::outer_faces(mesh, problem.conducts, [](const mesh::Hex27&, const Vec3&, const Vec3& n) {
        return std::abs(n.y) > 0.9 ? 0 : -1;
      });
  problem.flux = [](int, const Vec3&, double theta, double) {
    return heat::SurfaceFlux{-10.0 * theta, -10.0};
  };
  const heat::TemperatureField found = heat::HeatSolver(problem).steady(0.0, 1.0);
  const std::string why = "the fin formula knows no gradient through the thickness";
  check_row(incropera, {"fin-tip", "plate fin 3/16 in: tip, of the base", ""},
            near(0.6649, 0.005, why), found.value[nearest_node(mesh, {0.1, 0.0, 0.0})]);
  check_row(incropera, {"fin-efficiency", "plate fin 3/16 in: efficiency", ""},
            near(0.7732, 0.005, why), -found.through[0] / (10.0 * 2.0 * 0.1 * 0.05));
}
