// SPDX-License-Identifier: GPL-3.0-or-later
// Time steps of the heat solver, from given errors.
#define BOOST_TEST_MODULE step_controller
#include "solver/heat/step_controller.hpp"

#include <boost/test/unit_test.hpp>

#include <cmath>

namespace
{

using hangtrue::heat::StepController;

constexpr double rounding = 1e-12; // a few operations in double precision

// A controller over 4000 s whose tolerance is 1 K: the first step is 10 s.
StepController over_an_hour()
{
  return {0.0, 4000.0, 1.0};
}

double next_after(double step, double error)
{
  StepController steps = over_an_hour();
  steps.accepts(step, error);
  return steps.step_at(0.0);
}

} // namespace

BOOST_AUTO_TEST_CASE(a_step_is_accepted_by_its_error)
{
  StepController steps = over_an_hour();
  BOOST_TEST(steps.step_at(0.0) == 10.0, boost::test_tools::tolerance(rounding));
  BOOST_TEST(steps.accepts(10.0, 1.0));
  BOOST_TEST(!steps.accepts(10.0, 1.01));
}

// The error of a step of half the length is a quarter: with four times the tolerance the next one
// is half as long, less the safety.
BOOST_AUTO_TEST_CASE(the_next_step_follows_the_square_root_of_the_error)
{
  const auto near = boost::test_tools::tolerance(rounding);
  BOOST_TEST(next_after(10.0, 4.0) == 10.0 * 0.5 * StepController::safety, near);
  BOOST_TEST(next_after(10.0, 1.0) == 10.0 * StepController::safety, near);
  BOOST_TEST(next_after(10.0, 0.25) == 10.0 * 2.0 * StepController::safety, near);
}

BOOST_AUTO_TEST_CASE(steps_change_within_limits)
{
  const auto near = boost::test_tools::tolerance(rounding);
  BOOST_TEST(next_after(10.0, 1e6) == 10.0 * StepController::min_of_rejected, near);
  BOOST_TEST(next_after(10.0, 0.0) == 10.0 * StepController::max_growth, near);
}

BOOST_AUTO_TEST_CASE(the_shortest_step_is_taken_whatever_its_error)
{
  StepController steps = over_an_hour();
  const double shortest = StepController::shortest_step * 4000.0;
  BOOST_TEST(!steps.accepts(1.01 * shortest, 100.0));
  BOOST_TEST(steps.accepts(shortest, 100.0));
  BOOST_TEST(steps.step_at(0.0) == shortest * StepController::min_of_accepted,
             boost::test_tools::tolerance(rounding));
}

BOOST_AUTO_TEST_CASE(breaks_and_the_end_are_met)
{
  StepController steps(0.0, 4000.0, 1.0, {12.0, 7.0, 3999.0});
  BOOST_TEST(steps.step_at(0.0) == 7.0);
  BOOST_TEST(steps.step_at(7.0) == 5.0);
  // A break that rounding left just ahead counts as passed.
  BOOST_TEST(steps.step_at(7.0 - 1e-7) == 5.0 + 1e-7, boost::test_tools::tolerance(rounding));
  BOOST_TEST(steps.step_at(3995.0) == 4.0);
  BOOST_TEST(steps.step_at(3999.0) == 1.0);
  BOOST_TEST(!steps.done(3999.0));
  BOOST_TEST(steps.done(4000.0));
  BOOST_TEST(steps.done(4000.0 - 1e-7));
}

// An error of 1e-3 h^2 K stays below 1 K with steps of at most 31.6 s: steps converge to 0.9 of
// that.
BOOST_AUTO_TEST_CASE(steps_converge_where_the_error_is_the_tolerance)
{
  StepController steps = over_an_hour();
  double time = 0.0;
  double step = 0.0;
  int taken = 0;
  while (!steps.done(time)) {
    const double tried = steps.step_at(time);
    if (!steps.accepts(tried, 1e-3 * tried * tried))
      continue;
    if (++taken <= 100)
      step = tried;
    time += tried;
  }
  BOOST_TEST(step == StepController::safety * std::sqrt(1e3),
             boost::test_tools::tolerance(rounding));
  BOOST_TEST(taken == 142); // 4000 s in steps of 28.46 s after one of 10 s: 1 + 140.2, rounded up
}
