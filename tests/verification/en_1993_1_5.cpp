// SPDX-License-Identifier: GPL-3.0-or-later
// Buckling factors of EN 1993-1-5:2006, Tables 4.1 and 4.2 (from memory): long plates under
// compression that falls in a straight line from one side to the other, ratio psi of both sides.
#define BOOST_TEST_MODULE en_1993_1_5
#include <boost/test/unit_test.hpp>

#include "solver/strength/plate_buckling.hpp"
#include "tests/support/book.hpp"

#include <algorithm>
#include <array>
#include <numbers>
#include <string>

using namespace hangtrue;
using namespace hangtrue::test;

namespace
{

constexpr strength::EdgeSupport pinned = strength::EdgeSupport::supported;

// Least k over the length of one half wave (which a long plate is free to choose), width 1.
double least_k(double far, const strength::FieldEdges& edges, const std::array<double, 5>& lengths)
{
  double minimum = 1e300;
  for (const double a : lengths) {
    constexpr int steps = 40;
    strength::PlateField field;
    field.x = {0.0, a};
    field.z = {0.0};
    for (int j = 0; j < steps; ++j) {
      field.z.push_back((j + 1.0) / steps);
      field.pieces.push_back({1.0, -(1.0 + (far - 1.0) * (j + 0.5) / steps), 0.0, 0.0});
    }
    minimum = std::min(minimum, 1.0 / (strength::buckling_mode(field, edges).inverse_factor *
                                       std::numbers::pi * std::numbers::pi));
  }
  return minimum;
}

} // namespace

BOOST_AUTO_TEST_CASE(internal_and_outstand_parts)
{
  const Source en{"EN 1993-1-5", "EN 1993-1-5:2006, Tables 4.1 and 4.2 (from memory)."};
  const std::string printed = "digits printed";
  const std::array<double, 5> about_one{0.9, 0.95, 1.0, 1.05, 1.1};
  const std::array<double, 5> about_two_thirds{0.6, 0.64, 0.67, 0.7, 0.75};
  check_row(en, {"en-1993-1-5-even", "internal part, psi = 1: k_sigma", ""},
            within(4.0, 0.005, printed), least_k(1.0, {}, about_one));
  check_row(en, {"en-1993-1-5-to-nothing", "internal part, psi = 0: k_sigma", ""},
            within(7.81, 0.03, printed), least_k(0.0, {}, about_one));
  check_row(en, {"en-1993-1-5-bent", "internal part, psi = -1: k_sigma", ""},
            within(23.9, 0.06, printed), least_k(-1.0, {}, about_two_thirds));
  check_row(en, {"en-1993-1-5-outstand", "outstand part, psi = 1, long: k_sigma", ""},
            within(0.43, 0.01, "digits printed; ten times as long as wide adds 0.01"),
            least_k(1.0, {pinned, pinned, pinned, strength::EdgeSupport::free},
                    {10.0, 10.0, 10.0, 10.0, 10.0}));
}
