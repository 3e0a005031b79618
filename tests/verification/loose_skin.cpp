// SPDX-License-Identifier: GPL-3.0-or-later
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

door::Door hot_door(door::SkinRelease kind)
{
  door::Door door = barrel_door();
  door.insulation = {"mineral wool", 128.0};
  door.opening.latch = door.opening.lower = door.opening.upper = door.reveal;
  door.inner_hold.kind = kind;
  door.inner_hold.split_at = 0.5 * door.panel.width;
  door.fire.schedule = {{0.0, 20.0}, {1800.0, 205.0}};
  return door;
}

const strength::PlateUtilisation& plate(const analysis::SkinVariant& way, mesh::Part which)
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
  const analysis::SkinVariant welded = analysis::hot_panel(hot_door(door::SkinRelease::welded), 1);
  const analysis::SkinVariant floating =
      analysis::hot_panel(hot_door(door::SkinRelease::floating), 1);
  // The anchor's ends add two lines to the mesh: a tenth of a kelvin.
  BOOST_TEST(std::abs(welded.temperatures.rim - floating.temperatures.rim) < 1.0);
  BOOST_TEST(std::abs(welded.temperatures.outside_middle - floating.temperatures.outside_middle) <
             0.1);
}

// What releasing gains (common practice, no source): a floating skin bows the door much less; it
// slides by its own growth against the rim. Growth by hand: from the anchor in the middle of the
// lower edge to the upper corners, mean skin against mean rim; the skin's own cold edge restrains
// it, hence the wide band.
BOOST_AUTO_TEST_CASE(a_floating_skin_slides_and_bows_less)
{
  const door::Door door = hot_door(door::SkinRelease::floating);
  const analysis::SkinVariant welded = analysis::hot_panel(hot_door(door::SkinRelease::welded), 1);
  const analysis::SkinVariant floating = analysis::hot_panel(door, 1);
  // The rim faces a hot frame and has a gradient of its own, which stays.
  BOOST_TEST(plate(floating, mesh::Part::rim).stress < plate(welded, mesh::Part::rim).stress);
  const double away = std::hypot(0.5 * door.panel.width, door.panel.height);
  const double hand = away * (material::elongation(floating.temperatures.inner_skin) -
                              material::elongation(floating.temperatures.rim));
  check_row(
      trade(),
      {"floating-skin-slide", "floating skin: slide against the rim, by hand from means", "mm"},
      between(0.6e3 * hand, 1.3e3 * hand, "the skin's own cold edge holds it back"),
      1e3 * floating.slip.slide);
  check_row(trade(), {"floating-skin-bow", "floating skin: bow, of a welded skin's", ""},
            at_most(0.75, "said to bow much less; the rim's own gradient before a hot frame stays"),
            std::abs(floating.bow.outer_corners / welded.bow.outer_corners));
  BOOST_TEST(floating.slip.lift >= 0.0);
  BOOST_TEST(welded.slip.slide == 0.0);
}

// A cut closes by the growth of both halves; welded edges restrain some of it.
BOOST_AUTO_TEST_CASE(a_split_skin_closes_its_cut)
{
  const door::Door door = hot_door(door::SkinRelease::split);
  const analysis::SkinVariant split = analysis::hot_panel(door, 1);
  BOOST_TEST(split.slip.closing > 0.0);
  const double hand = door.panel.width * (material::elongation(split.temperatures.inner_skin) -
                                          material::elongation(split.temperatures.rim));
  check_row(trade(),
            {"split-skin-closes", "split skin: closing of its cut, by hand from means", "mm"},
            between(0.0, 1.3e3 * hand, "both halves grow to the cut; welded edges hold some back"),
            1e3 * split.slip.closing);
}

// A strip cools rim and outside; under a welded skin it bows the door more, since the rim no longer
// grows along with the skin (no source; it is why a strip and a floating skin go together).
BOOST_AUTO_TEST_CASE(a_strip_breaks_the_bridge)
{
  door::Door door = hot_door(door::SkinRelease::welded);
  const analysis::SkinVariant without = analysis::hot_panel(door, 1);
  door.strip.thickness = 6.35e-3;
  const analysis::SkinVariant with = analysis::hot_panel(door, 1);
  check_row(trade(), {"strip-rim", "1/4 in board under the inner skin: rim cooler by", "K"},
            at_least(10.0, "it breaks the bridge"),
            without.temperatures.rim - with.temperatures.rim);
  BOOST_TEST(with.temperatures.outside_hottest < without.temperatures.outside_hottest - 10.0);
  BOOST_TEST(std::abs(with.bow.outer_corners) > std::abs(without.bow.outer_corners));
}

// Play of a pin 300 degF hotter than its knuckle: 0.002 in on a 1 in pin (common practice,
// calc: 6.5e-6 x 300 x 1 in = 0.00195). EN 1993-1-2 elongation from 20 degC instead of 6.5e-6 per
// degF: 10 %.
BOOST_AUTO_TEST_CASE(play_that_a_hot_pin_takes)
{
  const double inch = 0.0254;
  door::Door door = barrel_door();
  for (auto& hinge : door.hinges)
    hinge.pin_diameter = 1.0 * inch;
  heat::TemperatureSummary summary;
  summary.knuckles = 20.0;
  summary.jamb = 20.0;
  summary.hinge_edge = 20.0;
  summary.pins = 20.0 + 300.0 / 1.8;
  const auto fits = strength::thermal_clearances(door, summary);
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
  door::Steel steel;
  for (const double t : {20.0, 200.0, 400.0}) {
    const material::SteelReduction k = material::reduction(t);
    steel.table.push_back({t, k.modulus * steel.youngs_modulus, k.yield * steel.yield,
                           k.proportional * steel.yield, material::elongation(t),
                           material::conductivity(t), material::specific_heat(t)});
  }
  for (const double t : {20.0, 200.0, 400.0}) {
    BOOST_TEST(std::abs(material::reduction(steel, t).modulus - material::reduction(t).modulus) <
               1e-12);
    BOOST_TEST(std::abs(material::reduction(steel, t).proportional -
                        material::reduction(t).proportional) < 1e-12);
    BOOST_TEST(std::abs(material::elongation(steel, t) - material::elongation(t)) < 1e-15);
  }
  BOOST_TEST(std::abs(material::conductivity(steel, 300.0) -
                      0.5 * (material::conductivity(200.0) + material::conductivity(400.0))) <
             1e-9);
  BOOST_CHECK_THROW(material::elongation(steel, 401.0), ComputeError);
}

// Measured skins are met: the field takes them where they were measured, and the rest follows.
BOOST_AUTO_TEST_CASE(measured_skins)
{
  door::Door door = hot_door(door::SkinRelease::welded);
  door.fire.schedule.clear();
  door.fire.measured = {true, 200.0, 60.0, 90.0};
  const analysis::SkinVariant way = analysis::hot_panel(door, 1);
  BOOST_TEST(std::abs(way.temperatures.outside_middle - 60.0) < 1e-6);
  BOOST_TEST(std::abs(way.temperatures.outside_hottest - 90.0) < 1e-6);
  // Quadratic cells overshoot a step (at the gasket line) by a percent of it.
  BOOST_TEST(way.temperatures.hottest < 200.0 + 0.01 * 180.0);
  BOOST_TEST(way.bow.outer_corners < 0.0); // convex towards the fire
}
