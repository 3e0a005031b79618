// Wear of pin and bore: Archard's law (Journal of Applied Physics 24, 1953, 981; constants from
// memory) and the drop of a rigid door by the geometry of its hinges.
#define BOOST_TEST_MODULE wear
#include <boost/test/unit_test.hpp>

#include "meshing/loft.hpp"
#include "solver/wear.hpp"
#include "tests/book.hpp"
#include "tests/test_doors.hpp"

#include <cmath>

using namespace hangtrue;
using namespace hangtrue::test;

namespace
{

const Source archard{
    "Wear", "Archard, Journal of Applied Physics 24 (1953) 981 (constants from memory), and "
            "the drop of a rigid door by the geometry of its hinges."};

} // namespace

BOOST_AUTO_TEST_CASE(archard_by_hand)
{
  // V = K F s / H with s = angle d / 2, spread over d L: the diameter falls out.
  const double d = 0.0254;
  const double length = 0.0381;
  const double volume = 7e-3 * 500.0 * (0.5 * d * 1.5) / (186.0 * 9.80665e6);
  check_row(archard, {"worn-depth", "500 N turned by 1.5 rad dry on 1 x 1-1/2 in: depth", "m"},
            near(volume / (d * length), 1e-12, "rounding"), worn_depth(7e-3, 500.0, 1.5, length));
  for (const bool greased : {true, false}) {
    const WearCoefficient k = wear_coefficient(greased);
    BOOST_TEST(k.low < k.usual);
    BOOST_TEST(k.usual < k.high);
  }
}

BOOST_AUTO_TEST_CASE(a_rigid_door_drops_by_what_its_hinges_wear)
{
  // Fast pins: only the door's knuckle of each hinge wears, by h = K F (2 swing) / (2 H L) a swing,
  // and the couple puts F = W x / S on both. The door turns by 2 h over the spacing of the
  // knuckles' bearing places, and its latch corner drops by that times its distance from the thrust
  // contact.
  Door door = barrel_door(PinHold::fixed);
  stiffen(door, 1e6);
  Fineness fine = fineness(door, 1);
  const Mesh mesh = loft(door, fine);
  FactoredBodies kept;
  const Deflection fresh = deflect_open(door, mesh, {}, nullptr, &kept);
  const Use use{20.0, 10.0, true};
  const WearCurve curve = wear_out(door, mesh, use, fresh, kept, {});
  const double length = door.hinges[0].knuckles[1].length;
  const double spacing = door.hinges[1].at - door.hinges[0].at;
  const double swings = 20.0 * 365.25 * 10.0;
  const double force =
      fresh.weight * (fresh.centre_of_gravity.x - pin_axis(door, door.hinges[0]).x) / spacing;
  const double depth = 1e-5 * force * door.swing * swings / (mild_steel_hardness * length);
  check_row(
      archard, {"worn-couple", "rigid door, couple on two hinges, ten years: depth", "mm"},
      near(1e3 * depth, 0.12, "the arm of the couple is not quite that of the hinges' middles"),
      1e3 * curve.depth);
  const WearYear& last = curve.years.back();
  double both = 0.0; // depths of the two hinges, by the force on each
  for (const auto& k : fresh.knuckles)
    if (k.owner == Owner::door)
      both += swings * worn_depth(1e-5, norm(k.pin_force), 2.0 * door.swing, length);
  // Of a rigid door all movements go as the gaps, so the drop grows as the mean depth to the play.
  const double gap = 0.5 * door.hinges[0].clearance;
  check_row(archard, {"worn-drop", "the same: growth of the drop", "mm"},
            near(1e3 * fresh.drop * 0.5 * both / gap, 0.01, "forces shift as the door leans"),
            1e3 * (last.usual - fresh.drop));
  // Linear in coefficient times swings while the geometry stays small.
  check_row(archard, {"worn-tenfold", "the same: growth at ten times the coefficient", ""},
            near(10.0, 0.05, "linear while the geometry stays small"),
            (last.usual - fresh.drop) / (last.low - fresh.drop));
  BOOST_TEST(last.high > last.usual);
  BOOST_TEST(!curve.worn_through);
  BOOST_TEST(curve.years.front().usual == fresh.drop);
}

BOOST_AUTO_TEST_CASE(dry_pins_end_the_curve)
{
  const Door door = barrel_door();
  Fineness fine = fineness(door, 1);
  fine.panel_cell = door.panel.width / 3.0;
  fine.hinge_cell = fine.panel_cell;
  fine.around_pin = 12;
  const Mesh mesh = loft(door, fine);
  FactoredBodies kept;
  const Deflection fresh = deflect_open(door, mesh, {}, nullptr, &kept);
  const WearCurve curve = wear_out(door, mesh, {100.0, 20.0, false}, fresh, kept, {});
  BOOST_TEST(curve.worn_through);
  BOOST_TEST(curve.points.back().depth == 0.1 * door.hinges[0].pin_diameter,
             boost::test_tools::tolerance(1e-6));
  // A floating pin slides half in the door's and half in the frame's knuckles: both wear.
  BOOST_TEST(curve.years.back().high > fresh.drop);
}
