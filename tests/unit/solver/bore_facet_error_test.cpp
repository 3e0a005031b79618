// SPDX-License-Identifier: GPL-3.0-or-later
// A pin that rests on two neighbouring contact directions of its bore, against the round bore.
//
// Source: plane geometry (own working). Directions 2 t apart, gap g: the corner that both allow is
// g / cos t from the middle of the bore, the arc g. Under a unit load that adds q along each
// direction, their resultant 2 q cos t does work on the difference: 2 q g (1 - cos t).
#define BOOST_TEST_MODULE bore_facet_error
#include <boost/test/unit_test.hpp>

#include "solver/error/bore_facet_error.hpp"

#include <cmath>
#include <numbers>
#include <vector>

using namespace hangtrue;

namespace
{

constexpr double degree = std::numbers::pi / 180.0;
constexpr double gap = 0.2e-3;  // m
constexpr double force = 150.0; // N, of each active pair
constexpr double unit = 0.7;    // N per N, of the adjoint solution

struct Solved {
  qoi::ContactStateData primal;
  contact::AdjointSolution adjoint;
};

// One bore with an active pair in every direction, deg.
Solved pin_on(const std::vector<double>& directions)
{
  Solved solved;
  for (const double d : directions) {
    contact::ContactPair pair;
    pair.normal = {std::cos(d * degree), std::sin(d * degree), 0.0};
    pair.gap = gap;
    solved.primal.points.push_back(pair);
    solved.primal.state.contact_force.push_back(force);
    solved.adjoint.contact_force.push_back(unit);
  }
  return solved;
}

double error_of(const Solved& solved)
{
  return error::bore_facet_error(solved.primal, solved.adjoint);
}

} // namespace

// Less is true than was computed, since the arc is nearer than the corner.
BOOST_AUTO_TEST_CASE(a_corner_is_farther_out_than_the_arc)
{
  for (const double half : {2.0, 3.75, 7.5}) {
    const double expected = -2.0 * unit * gap * (1.0 - std::cos(half * degree));
    // Of the difference of two lengths near the gap ten digits are left.
    BOOST_TEST(error_of(pin_on({30.0 - half, 30.0 + half})) == expected,
               boost::test_tools::tolerance(1e-9));
  }
}

// Where the force leans towards one direction the arc is met there: half way it is met in the
// middle, at one direction alone nothing is left of a corner.
BOOST_AUTO_TEST_CASE(the_arc_is_met_along_the_force)
{
  constexpr double half = 3.75;
  Solved solved = pin_on({-half, half});
  solved.primal.state.contact_force = {3.0 * force, force};
  const double lean = std::atan(-0.5 * std::tan(half * degree)); // of the force, by its components
  const double expected = -2.0 * unit * std::cos(half * degree) * gap *
                          (1.0 / std::cos(half * degree) - std::cos(lean));
  BOOST_TEST(error_of(solved) == expected, boost::test_tools::tolerance(1e-9));
}

BOOST_AUTO_TEST_CASE(no_corner_no_error)
{
  BOOST_TEST(error_of(pin_on({30.0})) == 0.0);
  BOOST_TEST(error_of(pin_on({22.5, 30.0, 37.5})) == 0.0); // spread over an arc by elasticity
  BOOST_TEST(error_of(pin_on({20.0, 40.0})) == 0.0);       // no neighbours
  Solved opened = pin_on({26.25, 33.75});
  opened.primal.state.contact_force[1] = 0.0;
  BOOST_TEST(error_of(opened) == 0.0);
}
