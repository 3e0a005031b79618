// SPDX-License-Identifier: GPL-3.0-or-later
// Carbon steel at temperature, point by point.
//
// Source: EN 1993-1-2:2005, Table 3.1 and 3.4.1.1 to 3.4.1.3. Values as in public fire-engineering
// codes; the standard itself was not at hand. Bands: table rows exactly; functions to the digits
// printed.
#define BOOST_TEST_MODULE en_1993_1_2
#include <boost/test/unit_test.hpp>

#include "meshing/common/errors.hpp"
#include "solver/material/steel_properties.hpp"
#include "tests/support/book.hpp"

#include <fmt/format.h>

#include <cmath>
#include <string>
#include <tuple>
#include <utility>
#include <vector>

using namespace hangtrue;
using namespace hangtrue::test;

namespace
{

const Source standard{"EN 1993-1-2", "EN 1993-1-2:2005, Table 3.1 and 3.4.1.1 to 3.4.1.3, as "
                                     "carried by public fire-engineering codes."};

std::string at(const char* what, double t)
{
  return fmt::format("steel-{}-{:.0f}", what, t);
}

} // namespace

BOOST_AUTO_TEST_CASE(reduction_factors)
{
  struct Row {
    double t;
    double ky;
    double kp;
    double ke;
  };
  const std::vector<Row> rows{{20, 1, 1, 1},           {100, 1, 1, 1},
                              {200, 1, .807, .9},      {300, 1, .613, .8},
                              {400, 1, .42, .7},       {500, .78, .36, .6},
                              {600, .47, .18, .31},    {700, .23, .075, .13},
                              {800, .11, .05, .09},    {900, .06, .0375, .0675},
                              {1000, .04, .025, .045}, {1100, .02, .0125, .0225},
                              {1200, 0, 0, 0}};
  for (const auto& row : rows) {
    const material::SteelReduction k = material::reduction(row.t);
    for (const auto& [what, theirs, ours] : {std::tuple{"yield", row.ky, k.yield},
                                             {"proportional", row.kp, k.proportional},
                                             {"modulus", row.ke, k.modulus}})
      check_row(standard, {at(what, row.t), fmt::format("k of {} at {:.0f} degC", what, row.t), ""},
                within(theirs, 1e-12, "a row of the table"), ours);
  }
  // Linear between rows: half way from 400 to 500.
  BOOST_TEST(std::abs(material::reduction(450.0).yield - 0.89) < 1e-12);
  BOOST_TEST(std::abs(material::reduction(450.0).modulus - 0.65) < 1e-12);
}

BOOST_AUTO_TEST_CASE(elongation_from_20_degrees)
{
  for (const auto& [t, e] : std::vector<std::pair<double, double>>{{20, 0},
                                                                   {100, .9984e-3},
                                                                   {200, 2.3184e-3},
                                                                   {300, 3.7184e-3},
                                                                   {400, 5.1984e-3},
                                                                   {500, 6.7584e-3},
                                                                   {600, 8.3984e-3},
                                                                   {700, 10.1184e-3},
                                                                   {800, 11.0e-3},
                                                                   {900, 11.8e-3},
                                                                   {1000, 13.8e-3},
                                                                   {1200, 17.8e-3}})
    check_row(standard, {at("elongation", t), fmt::format("elongation at {:.0f} degC", t), "m/m"},
              within(e, 1e-9, "digits printed"), material::elongation(t));
  // The jump that the standard has at 750 degC.
  BOOST_TEST(std::abs(material::elongation(749.999999) - material::elongation(750.0) - 8.4e-6) <
             1e-8);
}

BOOST_AUTO_TEST_CASE(specific_heat_and_conductivity)
{
  for (const auto& [t, c] : std::vector<std::pair<double, double>>{{20, 439.8},
                                                                   {100, 487.6},
                                                                   {200, 529.8},
                                                                   {300, 564.7},
                                                                   {400, 605.9},
                                                                   {500, 666.5},
                                                                   {600, 760.2},
                                                                   {700, 1008.2},
                                                                   {735, 5000.0},
                                                                   {800, 803.3},
                                                                   {900, 650.0}})
    check_row(standard,
              {at("specific-heat", t), fmt::format("specific heat at {:.0f} degC", t), "J/(kg K)"},
              within(c, 0.051, "digits printed"), material::specific_heat(t));
  for (const auto& [t, k] : std::vector<std::pair<double, double>>{{20, 53.33},
                                                                   {100, 50.67},
                                                                   {200, 47.34},
                                                                   {300, 44.01},
                                                                   {400, 40.68},
                                                                   {500, 37.35},
                                                                   {600, 34.02},
                                                                   {700, 30.69},
                                                                   {900, 27.3}})
    check_row(standard,
              {at("conductivity", t), fmt::format("conductivity at {:.0f} degC", t), "W/(m K)"},
              within(k, 0.0051, "digits printed"), material::conductivity(t));
}

BOOST_AUTO_TEST_CASE(beyond_the_tables)
{
  BOOST_CHECK_THROW(material::reduction(1200.1), ComputeError);
  BOOST_CHECK_THROW(material::elongation(-100.0), ComputeError);
  BOOST_CHECK_THROW(material::conductivity(std::nan("")), ComputeError);
}

// Table D.1, fillet welds, and Annex A, ultimate strength; both from memory.
BOOST_AUTO_TEST_CASE(welds_and_ultimate_strength)
{
  const Source annexes{"EN 1993-1-2 annexes",
                       "EN 1993-1-2:2005, Annex A and Table D.1 (from memory)."};
  for (const auto& [t, k] : {std::pair{20.0, 1.0},
                             {100.0, 1.0},
                             {200.0, 1.0},
                             {300.0, 1.0},
                             {400.0, 0.876},
                             {500.0, 0.627},
                             {600.0, 0.378},
                             {700.0, 0.130},
                             {800.0, 0.074},
                             {900.0, 0.018},
                             {1000.0, 0.0},
                             {1200.0, 0.0}})
    check_row(annexes, {at("weld", t), fmt::format("k_w of a fillet weld at {:.0f} degC", t), ""},
              within(k, 1e-12, "a row of the table"), material::weld_reduction(t));
  BOOST_TEST(std::abs(material::weld_reduction(450.0) - 0.5 * (0.876 + 0.627)) < 1e-12);
  BOOST_CHECK_THROW((void)material::weld_reduction(1201.0), ComputeError);
  door::Steel steel;
  steel.yield = 250.0e6;
  steel.ultimate = 400.0e6;
  // 400 up to 300 degC, 250 + 150 / 2 at 350, the yield from 400 on: 250, and 0.78 x 250 at 500.
  for (const auto& [t, mpa] :
       {std::pair{20.0, 400.0}, {300.0, 400.0}, {350.0, 325.0}, {400.0, 250.0}, {500.0, 195.0}})
    check_row(
        annexes,
        {at("ultimate", t), fmt::format("ultimate of 250 and 400 MPa at {:.0f} degC", t), "MPa"},
        within(mpa, 1e-9, "arithmetic"), material::ultimate_at(steel, t) / 1e6);
}
