// SPDX-License-Identifier: GPL-3.0-or-later
// One step of the Runge-Kutta method of the heat solver, on a body so conductive that it has one
// temperature T and cools by T' = -a T.
#define BOOST_TEST_MODULE sdirk2
#include "solver/heat/sdirk2.hpp"
#include "tests/support/heat_tools.hpp"

#include <boost/test/unit_test.hpp>

#include <algorithm>
#include <cmath>

namespace
{

using namespace hangtrue;
using namespace hangtrue::test;

constexpr double length = 0.01;                           // m, of a bar of 10 x 10 mm
constexpr double film = 100.0;                            // W/(m^2 K), at both ends, to 0 degC
constexpr double capacity = 1e6;                          // J/(m^3 K)
constexpr double conductivity = 1e6;                      // W/(m K)
constexpr double start = 100.0;                           // degC
constexpr double rate = 2.0 * film / (capacity * length); // 1/s
// Between middle and ends the temperature differs by film length / (8 conductivity) of itself,
// 1e-7; the iteration ends within 1e-8 of the throughput.
constexpr double lumped = 1e-6;
const double gamma_of_method = 1.0 - std::sqrt(0.5);

struct Cooled {
  heat::Sdirk2Step step;
  double imbalance = 0.0;
};

// A step with a h = `z`.
Cooled cooled(double z)
{
  const mesh::BodyMesh mesh = bar(length, 1);
  heat::HeatProblem problem = problem_on(mesh, plain(conductivity, capacity));
  ends_as_faces(problem, length);
  problem.flux = [](int, const Vec3&, double t, double) {
    return heat::SurfaceFlux{-film * t, -film};
  };
  const heat::HeatOperator op(problem);
  linear_algebra::ScalarCholesky factor(op.pattern());
  const double step = z / rate;
  Cooled result{
      heat::sdirk2_step(op, factor, std::vector<double>(op.unknowns(), start), 0.0, step)};
  result.imbalance = heat::energy_imbalance(op, result.step, step);
  return result;
}

double end_of(double z)
{
  return cooled(z).step.t.front() / start;
}

// What the method makes of T' = -a T in one step with a h = `z` (Alexander 1977).
double stability_function(double z)
{
  const double stage = 1.0 + gamma_of_method * z;
  return (1.0 - (1.0 - 2.0 * gamma_of_method) * z) / (stage * stage);
}

} // namespace

BOOST_AUTO_TEST_CASE(a_step_is_the_stability_function)
{
  for (const double z : {0.1, 1.0, 10.0}) {
    const Cooled c = cooled(z);
    for (const double t : c.step.t)
      BOOST_TEST(std::abs(t / start - stability_function(z)) < lumped);
  }
}

// Half the step has an eighth of the error as both go to zero; 1/7.32 at 0.2 and 0.1 of 1 / a, by
// the next term. The lumped body is good to a hundredth of the smaller error, 3.7e-5.
BOOST_AUTO_TEST_CASE(the_error_of_a_step_is_of_third_order)
{
  const auto error = [](double z) { return std::abs(end_of(z) - std::exp(-z)); };
  BOOST_TEST(error(0.2) / error(0.1) == 7.32, boost::test_tools::tolerance(0.02));
}

BOOST_AUTO_TEST_CASE(the_estimate_is_the_distance_from_the_line_through_the_first_stage)
{
  for (const double z : {0.1, 1.0}) {
    const double line = 1.0 - z / (1.0 + gamma_of_method * z);
    const double target = 0.5 * gamma_of_method * start * std::abs(stability_function(z) - line);
    BOOST_TEST(cooled(z).step.error == target, boost::test_tools::tolerance(1e-3));
  }
}

// L-stable: a step far longer than the body takes to cool leaves nothing, without swinging.
BOOST_AUTO_TEST_CASE(an_infinite_step_leaves_nothing)
{
  BOOST_TEST(std::abs(end_of(1e5)) < 1e-4); // (1 - 2 gamma) / (gamma^2 z) = 5e-5
}

// The heat inflow over both stages is what is stored, to the tolerance of the iteration.
BOOST_AUTO_TEST_CASE(a_step_closes_its_energy)
{
  for (const double z : {0.1, 1.0, 10.0})
    BOOST_TEST(cooled(z).imbalance < 1e-7);
}
