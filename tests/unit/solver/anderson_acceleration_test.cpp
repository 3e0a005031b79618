// SPDX-License-Identifier: GPL-3.0-or-later
// Anderson's acceleration of iterations whose fixed points are known.
#define BOOST_TEST_MODULE anderson_acceleration
#include "solver/linear_algebra/anderson_acceleration.hpp"

#include <boost/test/unit_test.hpp>

#include <algorithm>
#include <cmath>
#include <vector>

namespace
{

using hangtrue::linear_algebra::AndersonAcceleration;
using Vector = std::vector<double>;

// x -> x + step(x) shrinks the components of x at three rates: 0.1, 0.7 and, slowly, 0.98.
Vector slow_step(const Vector& x)
{
  return {-0.9 * x[0], -0.3 * x[1], -0.02 * x[2]};
}

double largest(const Vector& x)
{
  double maximum = 0.0;
  for (const double v : x)
    maximum = std::max(maximum, std::abs(v));
  return maximum;
}

// After so many rounds from (1, 1, 1).
Vector accelerated(int rounds, Vector (*step)(const Vector&))
{
  AndersonAcceleration acceleration;
  Vector x{1.0, 1.0, 1.0};
  for (int round = 0; round < rounds; ++round) {
    const Vector change = acceleration.next(x, step(x));
    for (std::size_t k = 0; k < x.size(); ++k)
      x[k] += change[k];
  }
  return x;
}

} // namespace

BOOST_AUTO_TEST_CASE(the_first_step_is_the_plain_one)
{
  AndersonAcceleration acceleration;
  const Vector step{0.5, -2.0};
  const Vector next = acceleration.next({1.0, 3.0}, step);
  BOOST_TEST(next == step, boost::test_tools::per_element());
}

// In one dimension two steps make a secant, which is exact where the step is linear.
BOOST_AUTO_TEST_CASE(one_dimension_is_the_secant)
{
  AndersonAcceleration acceleration;
  double x = 2.0; // fixed point 5, rate 0.75
  for (int round = 0; round < 2; ++round)
    x += acceleration.next({x}, {0.25 * (5.0 - x)}).front();
  BOOST_TEST(x == 5.0, boost::test_tools::tolerance(1e-12)); // rounding
}

// With as many steps remembered as there are unknowns a linear iteration ends one round after them.
// The rest is rounding, amplified some 1e5 times by the normal equations, which square the near
// dependence of the three steps. Without it 0.98 of the third component remain after each round.
BOOST_AUTO_TEST_CASE(a_linear_iteration_ends_after_as_many_steps_as_it_has_unknowns)
{
  BOOST_TEST(largest(accelerated(3, slow_step)) > 0.5);
  BOOST_TEST(largest(accelerated(4, slow_step)) < 1e-9);
}

// Steps that are all equal cannot be distinguished: the one that is left out does no harm.
BOOST_AUTO_TEST_CASE(steps_along_one_line_do_no_harm)
{
  const auto step = [](const Vector& x) { return Vector{-0.1 * x[0], -0.1 * x[1], -0.1 * x[2]}; };
  BOOST_TEST(largest(accelerated(2, step)) < 1e-12); // the secant again
  const Vector after = accelerated(6, step);
  BOOST_TEST(std::isfinite(after[0]));
  BOOST_TEST(largest(after) < 1e-12);
}

// A bent step, x -> sqrt(2 + x) in every component from 1: the fixed point is 2.
BOOST_AUTO_TEST_CASE(a_nonlinear_iteration_converges_faster)
{
  const auto step = [](const Vector& x) {
    Vector change;
    for (const double v : x)
      change.push_back(0.1 * (std::sqrt(2.0 + v) - v));
    return change;
  };
  Vector plain{1.0, 1.0, 1.0};
  for (int round = 0; round < 8; ++round) {
    const Vector change = step(plain);
    for (std::size_t k = 0; k < plain.size(); ++k)
      plain[k] += change[k];
  }
  BOOST_TEST(std::abs(plain[0] - 2.0) > 0.4); // a rate of 0.93
  BOOST_TEST(std::abs(accelerated(8, step)[0] - 2.0) < 1e-9);
}
