// Verdicts: texts, margins and the sources of limits.
#define BOOST_TEST_MODULE findings
#include <boost/test/unit_test.hpp>

#include "cases/verdict/check_result.hpp"
#include "cases/verdict/checks.hpp"
#include "cases/verdict/closed_quantities.hpp"
#include "cases/verdict/discretization_error.hpp"
#include "cases/verdict/quantities_of_interest.hpp"
#include "cases/verdict/quantity_of_interest.hpp"
#include "cases/verdict/quantity_table.hpp"
#include "solver/analysis/closed_result.hpp"
#include "solver/error/load_offset_check.hpp"
#include "solver/strength/hinge_forces.hpp"
#include "solver/strength/pin_section_forces.hpp"
#include "tests/support/test_doors.hpp"

#include <algorithm>
#include <cmath>

using namespace hangtrue;
using namespace hangtrue::test;

namespace
{

DoorCase make_case()
{
  DoorCase c;
  c.door = barrel_door();
  c.limits.drop = {inch / 16.0, "common practice, no source"};
  c.limits.lean = {inch / 8.0, "given in the door file"};
  c.limits.elastic_sag = {inch / 64.0, "common practice, no source"};
  c.limits.weld_stress = {21.0e3 * psi, "test"};
  c.limits.share_of_yield = {0.66, "test"};
  return c;
}

Deflection make_answer()
{
  Deflection d;
  d.drop = inch / 32.0;
  d.elastic_drop = inch / 128.0;
  d.lean = -inch / 32.0;
  KnuckleForce k;
  k.hinge = 1;
  k.knuckle = 1;
  k.owner = Owner::door;
  k.pin_force = {1000.0 * pound, 0.0, 0.0};
  k.bearing = 1000.0 * pound / (1.0 * inch * 1.5 * inch);
  d.knuckles = {k};
  PinForces pin;
  pin.hinge = 1;
  pin.greatest_bending = 2333.0 * pound * inch;
  pin.greatest_shear = 500.0 * pound;
  d.pins = {pin};
  LeafForces leaf;
  leaf.hinge = 0;
  leaf.root_bending = -100.0 * pound * inch;
  d.leaves = {leaf};
  return d;
}

std::vector<CheckResult> checks_of(const DoorCase& c, const Deflection& d)
{
  return evaluate_checks(c, quantities_of(c, d));
}

std::vector<CheckResult> checks_of(const DoorCase& c, const ClosedDoor& d)
{
  return evaluate_checks(c, quantities_of(c, d));
}

const CheckResult& named(const std::vector<CheckResult>& all, Quantity quantity)
{
  const auto at = std::find_if(all.begin(), all.end(), [quantity](const CheckResult& check) {
    return check.id.quantity == quantity;
  });
  BOOST_REQUIRE((at != all.end()));
  return *at;
}

} // namespace

BOOST_AUTO_TEST_CASE(the_rule_of_the_verdicts)
{
  BOOST_TEST((judge_value(0.5, 1.0, 0.0) == Verdict::holds));
  BOOST_TEST((judge_value(0.91, 1.0, 0.0) == Verdict::close));
  BOOST_TEST((judge_value(0.80, 1.0, 0.25) == Verdict::close)); // the error reaches the limit
  BOOST_TEST((judge_value(1.01, 1.0, 0.5) == Verdict::fails));
  BOOST_TEST((worst({}) == Verdict::holds));
}

BOOST_AUTO_TEST_CASE(found_limit_use_and_origin)
{
  const DoorCase c = make_case();
  const auto all = checks_of(c, make_answer());
  const CheckResult& drop = named(all, Quantity::drop);
  BOOST_TEST(std::abs(drop.utilisation - 0.5) < 1e-12);
  BOOST_TEST(drop.limit_origin == "common practice, no source");
  BOOST_TEST((drop.verdict == Verdict::holds));
  BOOST_TEST(named(all, Quantity::lean).utilisation == 0.25, boost::test_tools::tolerance(1e-9));
  BOOST_TEST(named(all, Quantity::elastic_sag).utilisation == 0.5,
             boost::test_tools::tolerance(1e-9));
}

// A 1 in pin at the trade's allowable moment (2333 lbf in for A36 at 0.66 Fy, hand-calculated) is
// just used up: 100 %, within the rounding of the table; the test door's pin has its default steel,
// 250 MPa.
BOOST_AUTO_TEST_CASE(a_pin_at_its_allowable_moment)
{
  const auto all = checks_of(make_case(), make_answer());
  const CheckResult& bending = named(all, Quantity::pin_bending);
  BOOST_TEST(std::abs(bending.utilisation * 250.0e6 / (36.0e3 * psi) - 1.0) < 0.002);
  BOOST_TEST(bending.reason.find("hinge 2") != std::string::npos);
}

BOOST_AUTO_TEST_CASE(bearing_and_leaf)
{
  const auto all = checks_of(make_case(), make_answer());
  // 1000 lbf on 1 in x 1.5 in is 666.7 psi, against 0.6 x 250 MPa.
  BOOST_TEST(std::abs(named(all, Quantity::knuckle_bearing).utilisation -
                      1000.0 / 1.5 * psi / 150.0e6) < 1e-9);
  // Where the knuckle is on its leaf: 1000 lbf at 1.05 x 3/4 in from the neck, 1.5 in long, 1/4 in
  // thick: 6 M / (L t^2) = 50,400 psi.
  BOOST_TEST(std::abs(named(all, Quantity::leaf_bending).found / psi - 50400.0) < 0.5);
  // 100 lbf in at the root of the web, of which 1.5 + 2 x (2 - 1/4 - 1.05 x 3/4) = 3.425 in bear:
  // 2802.9 psi.
  Deflection roots_only = make_answer();
  roots_only.knuckles.clear();
  const auto found = checks_of(make_case(), roots_only);
  BOOST_TEST(std::abs(named(found, Quantity::leaf_bending).found / psi - 2802.92) < 0.1);
}

// Hinges at 500 degC: yield is down to 78 % (EN 1993-1-2 Table 3.1), so the same moment uses more.
BOOST_AUTO_TEST_CASE(heat_lowers_the_limit)
{
  Deflection hot = make_answer();
  hot.hinge_temperature = 500.0;
  const double cold_use =
      named(checks_of(make_case(), make_answer()), Quantity::pin_bending).utilisation;
  const double hot_use = named(checks_of(make_case(), hot), Quantity::pin_bending).utilisation;
  BOOST_TEST(std::abs(hot_use / cold_use - 1.0 / 0.78) < 1e-9);
}

// Weld metal and base metal of hot hinges: k_w 0.627 at 500 degC (EN 1993-1-2 Table D.1), ultimate
// down to the yield there, 0.78 x 250 MPa, so 0.3 of that on the leg; cold 0.3 x 400 MPa is more
// than 0.4 x 250, which rules.
BOOST_AUTO_TEST_CASE(heat_lowers_what_a_weld_bears)
{
  Deflection hot = make_answer();
  hot.hinge_temperature = 500.0;
  const auto cold_all = checks_of(make_case(), make_answer());
  const auto hot_all = checks_of(make_case(), hot);
  const auto limit = [](const std::vector<CheckResult>& all, Quantity quantity) {
    return named(all, quantity).limit;
  };
  BOOST_TEST(limit(cold_all, Quantity::weld_throat_stress) == 21.0e3 * psi);
  BOOST_TEST(named(cold_all, Quantity::weld_throat_stress).limit_origin == "test");
  BOOST_TEST(limit(hot_all, Quantity::weld_throat_stress) == 0.627 * 21.0e3 * psi,
             boost::test_tools::tolerance(1e-12));
  BOOST_TEST(
      named(hot_all, Quantity::weld_throat_stress).limit_origin.find("test; times 0.627 at 932") ==
      0);
  BOOST_TEST(limit(cold_all, Quantity::weld_base_metal) == 100.0e6,
             boost::test_tools::tolerance(1e-12));
  BOOST_TEST(limit(hot_all, Quantity::weld_base_metal) == 0.3 * 0.78 * 250.0e6,
             boost::test_tools::tolerance(1e-12));
}

// The throat is leg / sqrt 2, so the leg has 1 / sqrt 2 of its stress.
BOOST_AUTO_TEST_CASE(base_metal_is_checked_on_the_leg)
{
  Deflection d = make_answer();
  d.leaves.front().force = {0.0, 1000.0 * pound, 0.0};
  const auto all = checks_of(make_case(), d);
  const double throat = named(all, Quantity::weld_throat_stress).found;
  // 1000 lbf on a box of 2 x (2 + 4.5) in of 3/16 in legs.
  BOOST_TEST(throat == 1000.0 / (13.0 * 0.1875 / std::sqrt(2.0)) * psi,
             boost::test_tools::tolerance(1e-9));
  BOOST_TEST(named(all, Quantity::weld_base_metal).found == throat / std::sqrt(2.0),
             boost::test_tools::tolerance(1e-12));
}

// Closed, the same forces use as much as open: pins, bearing, leaves and welds are checked there
// too. The force on a frame knuckle is not turned by the swing of the open door: along x, normal to
// the web, 100 lbf at 1.05 x 3/4 in bend a neck 1.5 in long and 1/4 in thick by 6 x 78.75 / (1.5 x
// 0.0625) = 5040 psi, where the open door turns it outwards.
BOOST_AUTO_TEST_CASE(hinges_of_a_closed_door_are_checked)
{
  const DoorCase c = make_case();
  const Deflection open = make_answer();
  ClosedDoor shut;
  shut.knuckles = open.knuckles;
  shut.pins = open.pins;
  shut.leaves = open.leaves;
  const auto all = checks_of(c, shut);
  const auto same = checks_of(c, open);
  for (const Quantity q :
       {Quantity::pin_bending, Quantity::pin_shear, Quantity::pin_combined,
        Quantity::knuckle_bearing, Quantity::pin_contact, Quantity::leaf_bending,
        Quantity::leaf_combined, Quantity::weld_throat_stress, Quantity::weld_base_metal}) {
    BOOST_TEST(named(all, q).found == named(same, q).found, row_of(q).label);
    BOOST_TEST(named(all, q).limit == named(same, q).limit, row_of(q).label);
    BOOST_TEST((named(all, q).id.state == shut.state));
  }
  shut.hinge_temperature = 500.0;
  BOOST_TEST(named(checks_of(c, shut), Quantity::pin_bending).limit ==
                 0.78 * named(all, Quantity::pin_bending).limit,
             boost::test_tools::tolerance(1e-12));
  shut.leaves.clear();
  shut.knuckles.front().owner = Owner::frame;
  shut.knuckles.front().knuckle = 0;
  shut.knuckles.front().pin_force = {100.0 * pound, 0.0, 0.0};
  BOOST_TEST(named(checks_of(c, shut), Quantity::leaf_bending).found / psi == 5040.0,
             boost::test_tools::tolerance(1e-6));
  Deflection turned = open;
  turned.leaves.clear();
  turned.knuckles = shut.knuckles;
  BOOST_TEST(named(checks_of(c, turned), Quantity::leaf_bending).found / psi < 3000.0);
}

// Forces at the hinges of a closed door converge by the slower of both classes, and their error is
// at least 3 %: from level 1 to 2 the panel leaves 1 / (1.5^3 - 1), the knuckle 1 / (2^2 - 1),
// times the safety factor 3 of two grids.
BOOST_AUTO_TEST_CASE(closed_hinges_have_mesh_errors)
{
  ClosedDoor shut;
  shut.pins = make_answer().pins;
  const auto answers = quantities_of(make_case(), shut);
  const QuantityOfInterest* bending = find_number(answers, {{}, Quantity::pin_bending});
  BOOST_REQUIRE((bending != nullptr));
  QuantityOfInterest before = *bending;
  before.value *= 1.1;
  BOOST_TEST(error_by_change(*bending, before, {}) ==
                 3.0 * 0.1 * bending->value / (1.5 * 1.5 * 1.5 - 1.0),
             boost::test_tools::tolerance(1e-9));
  BOOST_TEST(error_by_change(*bending, *bending, {}) == 0.03 * bending->value,
             boost::test_tools::tolerance(1e-9));
}

// A leak and the tightest point in the opening are reported with their positions, in the user's
// units.
BOOST_AUTO_TEST_CASE(a_closed_door_reports_positions)
{
  DoorCase c = make_case();
  c.limits.hand = {50.0 * pound, "test"};
  c.limits.reveal_left = {inch / 32.0, "test"};
  ClosedDoor d;
  d.state.thermal.which = ThermalCase::most_bowed;
  d.sum.least_at = {22.75 * inch, 0.0, 1.25 * inch};
  d.sum.open_length = 8.0 * inch;
  d.sum.largest_gap = 0.0117 * inch;
  d.sum.leak_area = 0.056 * inch * inch;
  d.reveal = {0.2 * inch, -0.01 * inch, 0.1 * inch, 0.2 * inch, {30.0 * inch, 0.0, 28.5 * inch}};
  const auto said = [&](Quantity q) { return named(checks_of(c, d), q).reason; };
  const auto in = [](const std::string& words, const std::string& all) {
    BOOST_TEST(all.find(words) != std::string::npos, words << " is not in: " << all);
  };
  in("least at 22.7500 in from the hinge edge, 1.2500 in up", said(Quantity::gasket_load));
  in("open over 8.0000 in, gap up to 0.0117 in, 0.056 in^2 in all", said(Quantity::gasket_load));
  in("least at the latch edge, 30.0000 in from the hinge edge, 28.5000 in up, where it touches",
     said(Quantity::reveal));
  BOOST_TEST((named(checks_of(c, d), Quantity::reveal).verdict == Verdict::fails));
  c.units = Units::si;
  in("36.1 mm^2 in all", said(Quantity::gasket_load));
}

// A pin 1 in thick under 1000 lbf of a 7.5 in knuckle: a hundredth of the knuckle is a lever arm of
// 0.075 in, so 75 lbf in, over pi d^3 / 32 (section modulus of a round bar).
BOOST_AUTO_TEST_CASE(reported_error_of_pin_bending_covers_its_bearing_position)
{
  DoorCase c = make_case();
  for (auto& hinge : c.door.hinges) {
    hinge.pin_diameter = inch;
    hinge.knuckles[1].length = 7.5 * inch;
  }
  const auto answers = quantities_of(c, make_answer());
  const QuantityOfInterest* bending = find_number(answers, {{}, Quantity::pin_bending});
  BOOST_REQUIRE((bending != nullptr));
  const double modulus = std::acos(-1.0) * std::pow(inch, 3) / 32.0;
  const double told = 75.0 * pound * inch / modulus;
  // Nothing changed from one mesh to the next; 2 % of 2333 lbf in would be 46.7.
  BOOST_TEST(error_by_change(*bending, *bending, {}) == told, boost::test_tools::tolerance(1e-9));
  // With four cells along the knuckle it is half of that, and 2 % is more.
  BOOST_TEST(error_by_change(*bending, *bending, {{4, 4}, {1, 1}, false}) == 0.02 * bending->value,
             boost::test_tools::tolerance(1e-9));
  const QuantityOfInterest* both = find_number(answers, {{}, Quantity::pin_combined});
  BOOST_REQUIRE((both != nullptr));
  // The stress of bending over that of both is the derivative.
  BOOST_TEST(error_by_change(*both, *both, {}) == told * bending->value / both->value,
             boost::test_tools::tolerance(1e-9));
}

// Two knuckles of a door leaf, 1.5 in long and 0.75 in apart, 1000 lbf on each: positions of both
// forces that are off by a hundredth of their knuckles transfer 1000 (0.015 + 0.015) / 0.75 = 40
// lbf from one to the other (lever rule), 4 % of the stress at either on its leaf.
BOOST_AUTO_TEST_CASE(reported_error_of_a_leaf_on_two_knuckles_covers_their_load_shares)
{
  DoorCase c = make_case();
  Deflection d = make_answer();
  d.leaves.clear();
  auto& hinge = c.door.hinges[1];
  hinge.knuckles.assign(3, {Owner::door, 1.5 * inch});
  hinge.knuckles[1].owner = Owner::frame;
  d.knuckles[0].knuckle = 0;
  d.knuckles[0].pin_force = {0.0, 1000.0 * pound, 0.0};
  d.knuckles.push_back(d.knuckles[0]);
  d.knuckles[1].knuckle = 2;
  d.knuckles[1].middle.z += 0.75 * inch;
  const auto told = [&] {
    const auto answers = quantities_of(c, d);
    const QuantityOfInterest* bending = find_number(answers, {{}, Quantity::leaf_bending});
    BOOST_REQUIRE((bending != nullptr));
    return error_by_change(*bending, *bending, {}) / bending->value;
  };
  BOOST_TEST(told() == 0.04, boost::test_tools::tolerance(1e-9));
  // A leaf on one knuckle takes all, wherever it bears.
  d.knuckles.pop_back();
  BOOST_TEST(told() == 0.02, boost::test_tools::tolerance(1e-9));
}

// The same of two lugs on the second hinge of a door whose first has barrels: a lug of one kind
// must not be taken for a leaf of the other, which was once looked up by its index in a list.
BOOST_AUTO_TEST_CASE(reported_error_of_a_lug_beside_barrels_covers_its_load_share)
{
  DoorCase c = make_case();
  Deflection d = make_answer();
  auto& hinge = c.door.hinges[1];
  hinge = lug_door().hinges[1];
  hinge.knuckles.assign(3, {Owner::door, 1.5 * inch});
  hinge.knuckles[1].owner = Owner::frame;
  d.leaves.clear();
  d.knuckles.assign(2, d.knuckles[0]);
  for (const int k : {0, 2}) {
    KnuckleForce& on = d.knuckles[k / 2];
    on.knuckle = k;
    on.middle = {0.0, 0.0, k * 0.375 * inch};
    LeafForces lug;
    lug.hinge = 1;
    lug.knuckle = k;
    lug.root_bending = 1.0e4 * pound * inch; // far above a tenth of its limit
    d.leaves.push_back(lug);
  }
  const auto answers = quantities_of(c, d);
  const QuantityOfInterest* bending = find_number(answers, {{}, Quantity::leaf_bending});
  BOOST_REQUIRE((bending != nullptr));
  BOOST_TEST(error_by_change(*bending, *bending, {}) == 0.04 * bending->value,
             boost::test_tools::tolerance(1e-9));
}

// A lid that drops by 1/32 in, and by 1/2 in with its loads offset slightly: the error is the
// difference, the reason says so, and the allowed 1/16 in lies within it.
BOOST_AUTO_TEST_CASE(a_lid_that_may_tip_says_so)
{
  const DoorCase c = make_case();
  Deflection d = make_answer();
  d.poise = Poise{0.015 * inch, {Tip{inch / 32.0, 0.0}, Tip{0.5 * inch, 0.2 * inch}}};
  auto answers = quantities_of(c, d);
  const QuantityOfInterest* drop = find_number(answers, {{}, Quantity::drop});
  const QuantityOfInterest* lean = find_number(answers, {{}, Quantity::lean});
  BOOST_REQUIRE((drop != nullptr && lean != nullptr));
  BOOST_TEST(reported_error(*drop, *drop, {}) == 15.0 / 32.0 * inch,
             boost::test_tools::tolerance(1e-9));
  BOOST_TEST(reported_error(*lean, *lean, {}) == (0.2 + 1.0 / 32.0) * inch,
             boost::test_tools::tolerance(1e-9));
  const auto says = [&](Quantity quantity, const std::string& it_is) {
    const std::string words =
        "with all that the door carries 0.0150 in off along the hinges it is ";
    return named(checks_of(c, d), quantity).reason.find(words + it_is) != std::string::npos;
  };
  BOOST_TEST(says(Quantity::drop, "0.5000 in"));
  BOOST_TEST(says(Quantity::lean, "0.2000 in"));
  d.poise->sides[1].drop = d.drop;
  BOOST_TEST(!says(Quantity::drop, ""));
  BOOST_TEST(says(Quantity::lean, "0.2000 in"));
}

// A limit of zero failed with a use of 0, as if there were any amount of play.
BOOST_AUTO_TEST_CASE(a_limit_of_zero)
{
  const Limit none{0.0, "test"};
  const auto check_of = [&](Quantity quantity, double value) {
    return evaluate_checks({}, {limited({{}, quantity}, value, none, "")}).front();
  };
  const CheckResult over = check_of(Quantity::drop, 1e-6);
  BOOST_TEST((over.verdict == Verdict::fails));
  BOOST_TEST(over.utilisation == 9.99);
  const CheckResult met = check_of(Quantity::drop, 0.0);
  BOOST_TEST((met.verdict == Verdict::holds));
  BOOST_TEST(met.utilisation == 0.0);
  const CheckResult below = check_of(Quantity::drop, -1e-6);
  BOOST_TEST((below.verdict == Verdict::holds));
  BOOST_TEST(below.utilisation == 0.0);
  // A lower bound of zero holds for zero, and for all that is more.
  BOOST_TEST((check_of(Quantity::reveal, 0.0).verdict == Verdict::holds));
  BOOST_TEST((check_of(Quantity::reveal, 1e-3).verdict == Verdict::holds));
  const CheckResult runs_in = check_of(Quantity::reveal, -1e-3);
  BOOST_TEST((runs_in.verdict == Verdict::fails));
  BOOST_TEST(runs_in.utilisation == 9.99);
}
