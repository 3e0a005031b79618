// SPDX-License-Identifier: GPL-3.0-or-later
// Verdicts: texts, margins and the sources of limits.
#define BOOST_TEST_MODULE checks
#include "tests/support/checked_results.hpp"

#include "cases/verdict/quantity_table.hpp"

#include <cmath>

using namespace hangtrue;
using namespace hangtrue::test;

BOOST_AUTO_TEST_CASE(the_rule_of_the_verdicts)
{
  BOOST_TEST((verdict::verdict_of_value(0.5, 1.0, 0.0) == verdict::Verdict::holds));
  BOOST_TEST((verdict::verdict_of_value(0.91, 1.0, 0.0) == verdict::Verdict::close));
  BOOST_TEST((verdict::verdict_of_value(0.80, 1.0, 0.25) ==
              verdict::Verdict::close)); // the error reaches the limit
  BOOST_TEST((verdict::verdict_of_value(1.01, 1.0, 0.5) == verdict::Verdict::fails));
  BOOST_TEST((verdict::worst({}) == verdict::Verdict::holds));
}

BOOST_AUTO_TEST_CASE(found_limit_use_and_origin)
{
  const input::DoorCase c = checked_case();
  const auto all = checks_of(c, checked_result());
  const verdict::CheckResult& drop = named(all, qoi::Quantity::drop);
  BOOST_TEST(std::abs(drop.utilisation - 0.5) < 1e-12);
  BOOST_TEST(drop.limit_origin == "common practice, no source");
  BOOST_TEST((drop.verdict == verdict::Verdict::holds));
  BOOST_TEST(named(all, qoi::Quantity::lean).utilisation == 0.25,
             boost::test_tools::tolerance(1e-9));
  BOOST_TEST(named(all, qoi::Quantity::elastic_sag).utilisation == 0.5,
             boost::test_tools::tolerance(1e-9));
}

// A 1 in pin at the trade's allowable moment (2333 lbf in for A36 at 0.66 Fy, hand-calculated) is
// just used up: 100 %, within the rounding of the table; the test door's pin has its default steel,
// 250 MPa.
BOOST_AUTO_TEST_CASE(a_pin_at_its_allowable_moment)
{
  const auto all = checks_of(checked_case(), checked_result());
  const verdict::CheckResult& bending = named(all, qoi::Quantity::pin_bending);
  BOOST_TEST(std::abs(bending.utilisation * 250.0e6 / (36.0e3 * psi) - 1.0) < 0.002);
  BOOST_TEST(bending.reason.find("hinge 2") != std::string::npos);
}

BOOST_AUTO_TEST_CASE(bearing_and_leaf)
{
  const auto all = checks_of(checked_case(), checked_result());
  // 1000 lbf on 1 in x 1.5 in is 666.7 psi, against 0.6 x 250 MPa.
  BOOST_TEST(std::abs(named(all, qoi::Quantity::knuckle_bearing).utilisation -
                      1000.0 / 1.5 * psi / 150.0e6) < 1e-9);
  // Where the knuckle is on its leaf: 1000 lbf at 1.05 x 3/4 in from the neck, 1.5 in long, 1/4 in
  // thick: 6 M / (L t^2) = 50,400 psi.
  BOOST_TEST(std::abs(named(all, qoi::Quantity::leaf_bending).found / psi - 50400.0) < 0.5);
  // 100 lbf in at the root of the web, of which 1.5 + 2 x (2 - 1/4 - 1.05 x 3/4) = 3.425 in bear:
  // 2802.9 psi.
  analysis::OpenDoorResult roots_only = checked_result();
  roots_only.knuckles.clear();
  const auto found = checks_of(checked_case(), roots_only);
  BOOST_TEST(std::abs(named(found, qoi::Quantity::leaf_bending).found / psi - 2802.92) < 0.1);
}

// Hinges at 500 degC: yield is down to 78 % (EN 1993-1-2 Table 3.1), so the same moment uses more.
BOOST_AUTO_TEST_CASE(heat_lowers_the_limit)
{
  analysis::OpenDoorResult hot = checked_result();
  hot.hinge_temperature = 500.0;
  const double cold_use =
      named(checks_of(checked_case(), checked_result()), qoi::Quantity::pin_bending).utilisation;
  const double hot_use =
      named(checks_of(checked_case(), hot), qoi::Quantity::pin_bending).utilisation;
  BOOST_TEST(std::abs(hot_use / cold_use - 1.0 / 0.78) < 1e-9);
}

// Weld metal and base metal of hot hinges: k_w 0.627 at 500 degC (EN 1993-1-2 Table D.1), ultimate
// down to the yield there, 0.78 x 250 MPa, so 0.3 of that on the leg; cold 0.3 x 400 MPa is more
// than 0.4 x 250, which rules.
BOOST_AUTO_TEST_CASE(heat_lowers_what_a_weld_bears)
{
  analysis::OpenDoorResult hot = checked_result();
  hot.hinge_temperature = 500.0;
  const auto cold_all = checks_of(checked_case(), checked_result());
  const auto hot_all = checks_of(checked_case(), hot);
  const auto limit = [](const std::vector<verdict::CheckResult>& all, qoi::Quantity quantity) {
    return named(all, quantity).limit;
  };
  BOOST_TEST(limit(cold_all, qoi::Quantity::weld_throat_stress) == 21.0e3 * psi);
  BOOST_TEST(named(cold_all, qoi::Quantity::weld_throat_stress).limit_origin == "test");
  BOOST_TEST(limit(hot_all, qoi::Quantity::weld_throat_stress) == 0.627 * 21.0e3 * psi,
             boost::test_tools::tolerance(1e-12));
  BOOST_TEST(named(hot_all, qoi::Quantity::weld_throat_stress)
                 .limit_origin.find("test; times 0.627 at 932") == 0);
  BOOST_TEST(limit(cold_all, qoi::Quantity::weld_base_metal) == 100.0e6,
             boost::test_tools::tolerance(1e-12));
  BOOST_TEST(limit(hot_all, qoi::Quantity::weld_base_metal) == 0.3 * 0.78 * 250.0e6,
             boost::test_tools::tolerance(1e-12));
}

// The throat is leg / sqrt 2, so the leg has 1 / sqrt 2 of its stress.
BOOST_AUTO_TEST_CASE(base_metal_is_checked_on_the_leg)
{
  analysis::OpenDoorResult d = checked_result();
  d.leaves.front().force = {0.0, 1000.0 * pound, 0.0};
  const auto all = checks_of(checked_case(), d);
  const double throat = named(all, qoi::Quantity::weld_throat_stress).found;
  // 1000 lbf on a box of 2 x (2 + 4.5) in of 3/16 in legs.
  BOOST_TEST(throat == 1000.0 / (13.0 * 0.1875 / std::sqrt(2.0)) * psi,
             boost::test_tools::tolerance(1e-9));
  BOOST_TEST(named(all, qoi::Quantity::weld_base_metal).found == throat / std::sqrt(2.0),
             boost::test_tools::tolerance(1e-12));
}

// Closed, the same forces use as much as open: pins, bearing, leaves and welds are checked there
// too. The force on a frame knuckle is not turned by the swing of the open door: along x, normal to
// the web, 100 lbf at 1.05 x 3/4 in bend a neck 1.5 in long and 1/4 in thick by 6 x 78.75 / (1.5 x
// 0.0625) = 5040 psi, where the open door turns it outwards.
BOOST_AUTO_TEST_CASE(hinges_of_a_closed_door_are_checked)
{
  const input::DoorCase c = checked_case();
  const analysis::OpenDoorResult open = checked_result();
  analysis::ClosedDoorResult closed;
  closed.knuckles = open.knuckles;
  closed.pins = open.pins;
  closed.leaves = open.leaves;
  const auto all = checks_of(c, closed);
  const auto same = checks_of(c, open);
  for (const qoi::Quantity q :
       {qoi::Quantity::pin_bending, qoi::Quantity::pin_shear, qoi::Quantity::pin_combined,
        qoi::Quantity::knuckle_bearing, qoi::Quantity::pin_contact, qoi::Quantity::leaf_bending,
        qoi::Quantity::leaf_combined, qoi::Quantity::weld_throat_stress,
        qoi::Quantity::weld_base_metal}) {
    BOOST_TEST(named(all, q).found == named(same, q).found, verdict::row_of(q).label);
    BOOST_TEST(named(all, q).limit == named(same, q).limit, verdict::row_of(q).label);
    BOOST_TEST((named(all, q).id.state == closed.state));
  }
  closed.hinge_temperature = 500.0;
  BOOST_TEST(named(checks_of(c, closed), qoi::Quantity::pin_bending).limit ==
                 0.78 * named(all, qoi::Quantity::pin_bending).limit,
             boost::test_tools::tolerance(1e-12));
  closed.leaves.clear();
  closed.knuckles.front().owner = door::KnuckleOwner::frame;
  closed.knuckles.front().knuckle = 0;
  closed.knuckles.front().pin_force = {100.0 * pound, 0.0, 0.0};
  BOOST_TEST(named(checks_of(c, closed), qoi::Quantity::leaf_bending).found / psi == 5040.0,
             boost::test_tools::tolerance(1e-6));
  analysis::OpenDoorResult turned = open;
  turned.leaves.clear();
  turned.knuckles = closed.knuckles;
  BOOST_TEST(named(checks_of(c, turned), qoi::Quantity::leaf_bending).found / psi < 3000.0);
}

// A leak and the tightest point in the opening are reported with their positions, in the user's
// units.
BOOST_AUTO_TEST_CASE(a_closed_door_reports_positions)
{
  input::DoorCase c = checked_case();
  c.limits.hand = {50.0 * pound, "test"};
  c.limits.reveal_left = {inch / 32.0, "test"};
  analysis::ClosedDoorResult d;
  d.state.thermal.which = heat::ThermalCase::most_bowed;
  d.gasket_summary.min_at = {22.75 * inch, 0.0, 1.25 * inch};
  d.gasket_summary.open_length = 8.0 * inch;
  d.gasket_summary.largest_gap = 0.0117 * inch;
  d.gasket_summary.leak_area = 0.056 * inch * inch;
  d.reveal = {0.2 * inch, -0.01 * inch, 0.1 * inch, 0.2 * inch, {30.0 * inch, 0.0, 28.5 * inch}};
  const auto said = [&](qoi::Quantity q) { return named(checks_of(c, d), q).reason; };
  const auto in = [](const std::string& words, const std::string& all) {
    BOOST_TEST(all.find(words) != std::string::npos, words << " is not in: " << all);
  };
  in("least at 22.7500 in from the hinge edge, 1.2500 in up", said(qoi::Quantity::gasket_load));
  in("open over 8.0000 in, gap up to 0.0117 in, 0.056 in^2 in all",
     said(qoi::Quantity::gasket_load));
  in("least at the latch edge, 30.0000 in from the hinge edge, 28.5000 in up, where it touches",
     said(qoi::Quantity::reveal));
  BOOST_TEST((named(checks_of(c, d), qoi::Quantity::reveal).verdict == verdict::Verdict::fails));
  c.units = input::UnitSystem::si;
  in("36.1 mm^2 in all", said(qoi::Quantity::gasket_load));
}

// A limit of zero failed with a use of 0, as if there were any amount of play.
BOOST_AUTO_TEST_CASE(a_limit_of_zero)
{
  const input::Limit none{0.0, "test"};
  const auto check_of = [&](qoi::Quantity quantity, double value) {
    return verdict::evaluate_checks({}, {verdict::limited({{}, quantity}, value, none, "")})
        .front();
  };
  const verdict::CheckResult over = check_of(qoi::Quantity::drop, 1e-6);
  BOOST_TEST((over.verdict == verdict::Verdict::fails));
  BOOST_TEST(over.utilisation == 9.99);
  const verdict::CheckResult met = check_of(qoi::Quantity::drop, 0.0);
  BOOST_TEST((met.verdict == verdict::Verdict::holds));
  BOOST_TEST(met.utilisation == 0.0);
  const verdict::CheckResult below = check_of(qoi::Quantity::drop, -1e-6);
  BOOST_TEST((below.verdict == verdict::Verdict::holds));
  BOOST_TEST(below.utilisation == 0.0);
  // A lower bound of zero holds for zero, and for all that is more.
  BOOST_TEST((check_of(qoi::Quantity::reveal, 0.0).verdict == verdict::Verdict::holds));
  BOOST_TEST((check_of(qoi::Quantity::reveal, 1e-3).verdict == verdict::Verdict::holds));
  const verdict::CheckResult runs_in = check_of(qoi::Quantity::reveal, -1e-3);
  BOOST_TEST((runs_in.verdict == verdict::Verdict::fails));
  BOOST_TEST(runs_in.utilisation == 9.99);
}
