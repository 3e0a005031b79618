// A released skin, and the effect of heat on plates and play, against closed forms.
#define BOOST_TEST_MODULE loose_skin
#include <boost/test/unit_test.hpp>

#include "meshing/common/errors.hpp"
#include "solver/analysis/skin_study.hpp"
#include "solver/heat/door_heat_problem.hpp"
#include "solver/heat/heat_equation.hpp"
#include "solver/heat/thermal_state.hpp"
#include "solver/material/steel_properties.hpp"
#include "solver/strength/plate_checks.hpp"
#include "solver/strength/thermal_clearance.hpp"
#include "tests/support/book.hpp"
#include "tests/support/test_doors.hpp"

#include <cmath>

using namespace hangtrue;
using namespace hangtrue::test;

namespace
{

Door hot_door(SkinHold kind)
{
  Door door = barrel_door();
  door.insulation = {"mineral wool", 128.0};
  door.opening.latch = door.opening.lower = door.opening.upper = door.reveal;
  door.inner_hold.kind = kind;
  door.inner_hold.split_at = 0.5 * door.panel.width;
  door.fire.schedule = {{0.0, 20.0}, {1800.0, 205.0}};
  return door;
}

const PlateUse& plate(const SkinWay& way, Part which)
{
  for (const auto& p : way.plates)
    if (p.plate == which)
      return p;
  throw std::runtime_error("no such plate");
}

} // namespace

// Without a strip temperatures do not change when the skin is released: duplicate nodes share their
// temperature. Where the grid planes are the same (split at an existing line: none added) fields
// agree to the solver's tolerance.
BOOST_AUTO_TEST_CASE(temperatures_do_not_depend_on_a_loose_skin)
{
  const SkinWay welded = hot_panel(hot_door(SkinHold::welded), 1);
  const SkinWay floating = hot_panel(hot_door(SkinHold::floating), 1);
  // The anchor's ends add two lines to the mesh: a tenth of a kelvin.
  BOOST_TEST(std::abs(welded.warmth.rim - floating.warmth.rim) < 1.0);
  BOOST_TEST(std::abs(welded.warmth.outside_middle - floating.warmth.outside_middle) < 0.1);
}

// What releasing gains (common practice, no source): a floating skin bows the door much less; it
// slides by its own growth against the rim. Growth by hand: from the anchor in the middle of the
// lower edge to the upper corners, mean skin against mean rim; the skin's own cold edge restrains
// it, hence the wide band.
BOOST_AUTO_TEST_CASE(a_floating_skin_slides_and_bows_less)
{
  const Door door = hot_door(SkinHold::floating);
  const SkinWay welded = hot_panel(hot_door(SkinHold::welded), 1);
  const SkinWay floating = hot_panel(door, 1);
  // The rim faces a hot frame and has a gradient of its own, which stays.
  BOOST_TEST(plate(floating, Part::rim).stress < plate(welded, Part::rim).stress);
  const double away = std::hypot(0.5 * door.panel.width, door.panel.height);
  const double hand =
      away * (elongation(floating.warmth.inner_skin) - elongation(floating.warmth.rim));
  check_row(
      trade(),
      {"floating-skin-slide", "floating skin: slide against the rim, by hand from means", "mm"},
      between(0.6e3 * hand, 1.3e3 * hand, "the skin's own cold edge holds it back"),
      1e3 * floating.play.slide);
  check_row(trade(), {"floating-skin-bow", "floating skin: bow, of a welded skin's", ""},
            at_most(0.75, "said to bow much less; the rim's own gradient before a hot frame stays"),
            std::abs(floating.bow.outer_corners / welded.bow.outer_corners));
  BOOST_TEST(floating.play.lift >= 0.0);
  BOOST_TEST(welded.play.slide == 0.0);
}

// A cut closes by the growth of both halves; welded edges restrain some of it.
BOOST_AUTO_TEST_CASE(a_split_skin_closes_its_cut)
{
  const Door door = hot_door(SkinHold::split);
  const SkinWay split = hot_panel(door, 1);
  BOOST_TEST(split.play.closing > 0.0);
  const double hand =
      door.panel.width * (elongation(split.warmth.inner_skin) - elongation(split.warmth.rim));
  check_row(trade(),
            {"split-skin-closes", "split skin: closing of its cut, by hand from means", "mm"},
            between(0.0, 1.3e3 * hand, "both halves grow to the cut; welded edges hold some back"),
            1e3 * split.play.closing);
}

// A strip cools rim and outside; under a welded skin it bows the door more, since the rim no longer
// grows along with the skin (no source; it is why a strip and a floating skin go together).
BOOST_AUTO_TEST_CASE(a_strip_breaks_the_bridge)
{
  Door door = hot_door(SkinHold::welded);
  const SkinWay without = hot_panel(door, 1);
  door.strip.thickness = 6.35e-3;
  const SkinWay with = hot_panel(door, 1);
  check_row(trade(), {"strip-rim", "1/4 in board under the inner skin: rim cooler by", "K"},
            at_least(10.0, "it breaks the bridge"), without.warmth.rim - with.warmth.rim);
  BOOST_TEST(with.warmth.outside_hottest < without.warmth.outside_hottest - 10.0);
  BOOST_TEST(std::abs(with.bow.outer_corners) > std::abs(without.bow.outer_corners));
}

// Play of a pin 300 degF hotter than its knuckle: 0.002 in on a 1 in pin (common practice,
// calc: 6.5e-6 x 300 x 1 in = 0.00195). EN 1993-1-2 elongation from 20 degC instead of 6.5e-6 per
// degF: 10 %.
BOOST_AUTO_TEST_CASE(play_that_a_hot_pin_takes)
{
  const double inch = 0.0254;
  Door door = barrel_door();
  for (auto& hinge : door.hinges)
    hinge.pin_diameter = 1.0 * inch;
  Warmth warmth;
  warmth.knuckles = 20.0;
  warmth.jamb = 20.0;
  warmth.hinge_edge = 20.0;
  warmth.pins = 20.0 + 300.0 / 1.8;
  const auto fits = hot_fits(door, warmth);
  BOOST_REQUIRE(!fits.empty());
  const double taken = door.hinges[0].clearance - fits[0].bore;
  check_row(trade(),
            {"hot-pin-play", "play that a 1 in pin 300 degF hotter than its knuckle takes", "in"},
            near(0.00195, 0.1, "elongation by EN 1993-1-2 instead of 6.5e-6 per degF"),
            taken / inch);
}

// Steel by a table: the rows of EN 1993-1-2 (2005, Table 3.1) typed in give the same numbers at the
// rows, and between two rows the mean.
BOOST_AUTO_TEST_CASE(steel_by_table)
{
  Steel steel;
  for (const double t : {20.0, 200.0, 400.0}) {
    const SteelReduction k = reduction(t);
    steel.table.push_back({t, k.modulus * steel.youngs_modulus, k.yield * steel.yield,
                           k.proportional * steel.yield, elongation(t), conductivity(t),
                           specific_heat(t)});
  }
  for (const double t : {20.0, 200.0, 400.0}) {
    BOOST_TEST(std::abs(reduction(steel, t).modulus - reduction(t).modulus) < 1e-12);
    BOOST_TEST(std::abs(reduction(steel, t).proportional - reduction(t).proportional) < 1e-12);
    BOOST_TEST(std::abs(elongation(steel, t) - elongation(t)) < 1e-15);
  }
  BOOST_TEST(std::abs(conductivity(steel, 300.0) -
                      0.5 * (conductivity(200.0) + conductivity(400.0))) < 1e-9);
  BOOST_CHECK_THROW(elongation(steel, 401.0), ComputeError);
}

// Measured skins are met: the field takes them where they were measured, and the rest follows.
BOOST_AUTO_TEST_CASE(measured_skins)
{
  Door door = hot_door(SkinHold::welded);
  door.fire.schedule.clear();
  door.fire.measured = {true, 200.0, 60.0, 90.0};
  const SkinWay way = hot_panel(door, 1);
  BOOST_TEST(std::abs(way.warmth.outside_middle - 60.0) < 1e-6);
  BOOST_TEST(std::abs(way.warmth.outside_hottest - 90.0) < 1e-6);
  // Quadratic cells overshoot a step (at the gasket line) by a percent of it.
  BOOST_TEST(way.warmth.hottest < 200.0 + 0.01 * 180.0);
  BOOST_TEST(way.bow.outer_corners < 0.0); // convex towards the fire
}
