// Everything 1,000 times stiffer against the rigid geometry of pins in bores.
//
// Source: plane geometry (textbook statics; worked out here). A rigid door on two hinges leans
// until the lower end of the lowest door knuckle and the upper end of the highest one have used up
// their play: with c the radial clearance these may stand n c off the frame's axis, n = 2 for a
// floating pin (pin in frame, door on pin), n = 1 for a fixed one. So the lean per height is
//   theta = 2 n c / H,  H = hinge spacing + door knuckle length.
// It leans towards its centre of gravity (seen from the axis, along e), since that lowers the
// weight most. It stands on the rim of the lowest thrust face that carries, at outside radius R on
// the side of e, so a point at r from the axis drops by
//   theta (e . r - R).
// Band 0.5 %: contact is at nodes, 6 degrees apart at most, so a direction is met within
// 1 - cos(3 degrees) = 0.14 %, and the steel keeps 1/1000 of its spring.
#define BOOST_TEST_MODULE rigid_hang
#include <boost/test/unit_test.hpp>

#include "meshing/loft.hpp"
#include "solver/open_door.hpp"
#include "tests/test_doors.hpp"

#include <cmath>
#include <numbers>

using namespace hangtrue;
using namespace hangtrue::test;

namespace
{

struct Rigid {
  double lean_per_height = 0.0;
  double drop = 0.0;
  double lean = 0.0; // of the upper latch corner against the lower one, along x
  double ex = 1.0;
  double ey = 0.0;
};

Rigid rigid_hang(const Door& door, const Vec3& centre)
{
  const Hinge& low = door.hinges.front();
  const Hinge& high = door.hinges.back();
  const AxisPlace axis = pin_axis(door, low);
  const double spacing = high.at - low.at;
  const double knuckle = low.knuckles[1].length;
  const double play = (low.pin == PinHold::floating ? 2.0 : 1.0) * 0.5 * low.clearance;
  Rigid rigid;
  rigid.lean_per_height = 2.0 * play / (spacing + knuckle);
  const double rx = centre.x - axis.x;
  const double ry = centre.y - axis.y;
  rigid.ex = rx / std::hypot(rx, ry);
  rigid.ey = ry / std::hypot(rx, ry);
  const double along = rigid.ex * (door.panel.width - axis.x) + rigid.ey * (depth(door) - axis.y);
  rigid.drop = rigid.lean_per_height * (along - outside_radius(low));
  rigid.lean = rigid.lean_per_height * rigid.ex * door.panel.height;
  return rigid;
}

void compare(Door door)
{
  stiffen(door, 1000.0);
  const Mesh mesh = loft(door, fineness(door, 1));
  const Deflection hung = deflect_open(door, mesh);
  const Rigid rigid = rigid_hang(door, hung.centre_of_gravity);
  BOOST_TEST_MESSAGE("drop " << rigid.drop / inch << " in rigid, " << hung.drop / inch
                             << " here; lean " << rigid.lean / inch << ", " << hung.lean / inch);
  BOOST_TEST(std::abs(hung.drop / rigid.drop - 1.0) < 0.005);
  BOOST_TEST(std::abs(hung.lean / rigid.lean - 1.0) < 0.005);
  BOOST_TEST(hung.balance.force_error < 1e-8);
  BOOST_TEST(hung.balance.moment_error < 1e-8);
  if (mesh.pins.empty())
    return;
  // The upper pin lies against its frame bores on the side of the lean where the door pulls it.
  const Cylinder& in_door = mesh.hinges.back().pin[1];
  Vec3 mean;
  for (const int n : in_door.node.back())
    mean += (1.0 / static_cast<double>(in_door.node.back().size())) * hung.pin_moves.back()[n];
  const double moved = rigid.ex * mean.x + rigid.ey * mean.y;
  BOOST_TEST(std::abs(moved / (0.5 * door.hinges.back().clearance) - 1.0) < 0.005);
}

} // namespace

BOOST_AUTO_TEST_CASE(barrels_on_a_floating_pin)
{
  compare(barrel_door(PinHold::floating));
}

BOOST_AUTO_TEST_CASE(barrels_on_a_fixed_pin)
{
  compare(barrel_door(PinHold::fixed));
}

BOOST_AUTO_TEST_CASE(barrels_at_another_swing)
{
  Door door = barrel_door(PinHold::floating);
  door.swing = 37.0 * std::numbers::pi / 180.0;
  compare(door);
}

BOOST_AUTO_TEST_CASE(lugs_on_a_floating_pin)
{
  compare(lug_door(PinHold::floating));
}

BOOST_AUTO_TEST_CASE(lugs_on_a_fixed_pin)
{
  compare(lug_door(PinHold::fixed));
}
