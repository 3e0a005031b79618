// SPDX-License-Identifier: GPL-3.0-or-later
// A lid whose loads are offset slightly along its hinge, against one whose hinge is offset the
// other way.
//
// Source: statics; only the relative position of a lid's hinge and its loads counts.
#define BOOST_TEST_MODULE load_offset
#include <boost/test/unit_test.hpp>

#include "meshing/door/mesh_density.hpp"
#include "meshing/sweep/door_mesher.hpp"
#include "solver/analysis/open_analysis.hpp"
#include "tests/support/test_doors.hpp"

#include <algorithm>
#include <cmath>
#include <utility>

using namespace hangtrue;
using namespace hangtrue::test;

namespace
{

// A lid on one hinge of two knuckles: its weight is over where both meet.
door::Door lid(double position, double clearance)
{
  door::Door door = barrel_door();
  door.hanging = door::HingeEdge::top;
  door.swing = 0.5;
  door::Hinge hinge = door.hinges.front();
  hinge.leaf.length = 3.0 * inch;
  hinge.knuckles = {{door::KnuckleOwner::frame, 1.5 * inch},
                    {door::KnuckleOwner::door, 1.5 * inch}};
  hinge.clearance = clearance;
  hinge.position = position;
  door.hinges = {hinge};
  return door;
}

analysis::OpenDoorResult solved_open(const door::Door& door)
{
  return analysis::solve_open_door(
      {.door = door, .mesh = sweep::make_mesh(door, door::mesh_density(door, 1))});
}

} // namespace

// The corners are 0.4 of 381 mm nearer to where the lid tips or further from it: a thousandth.
BOOST_AUTO_TEST_CASE(offsetting_the_loads_is_offsetting_the_hinge_the_other_way)
{
  const double clearance = 0.018 * inch;
  const analysis::OpenDoorResult plain = solved_open(lid(15.0 * inch, clearance));
  BOOST_REQUIRE(plain.load_offset != nullptr);
  const double offset = plain.load_offset->offset;
  BOOST_TEST(offset == 0.015 * inch, boost::test_tools::tolerance(1e-12));
  for (const auto& [side, way] : {std::pair{0, 1.0}, std::pair{1, -1.0}}) {
    const analysis::OpenDoorResult moved = solved_open(lid(15.0 * inch + way * offset, clearance));
    const analysis::OpenDoorResult& reported = plain.load_offset->sides.at(side);
    BOOST_TEST(reported.drop == moved.drop, boost::test_tools::tolerance(0.002));
    BOOST_TEST(reported.lean == moved.lean, boost::test_tools::tolerance(0.002));
  }
  // It tips over, in either direction, as far as the play allows.
  BOOST_TEST(plain.load_offset->sides[0].lean * plain.load_offset->sides[1].lean < 0.0);
}

// A stiff lid on one door knuckle of length l, its weight W over the middle of it: a couple W s
// about the vertical is a force W s / l across at either end, where W / 2 rests, so the pin moves
// aside in the round bore by half of the clearance times the sine of atan(2 s / l), a pendulum, and
// the lid of height H turns by twice that over l. Lean and set-back are the movements of one latch
// corner against the other, H apart, across the vertical.
BOOST_AUTO_TEST_CASE(a_lid_turns_in_its_bores_like_a_pendulum)
{
  door::Door door = lid(15.0 * inch, 0.018 * inch);
  const double length = 3.0 * inch;
  door.hinges[0].fixity = door::PinFixity::fixed;
  door.hinges[0].leaf.length = 6.0 * inch;
  door.hinges[0].knuckles = {{door::KnuckleOwner::frame, 1.5 * inch},
                             {door::KnuckleOwner::door, length},
                             {door::KnuckleOwner::frame, 1.5 * inch}};
  stiffen(door, 1000.0);
  const analysis::OpenDoorResult nominal = solved_open(door);
  BOOST_REQUIRE((nominal.load_offset != nullptr));
  BOOST_TEST(std::abs(nominal.centre_of_gravity.z - 15.0 * inch) < 1e-3 * length);
  const double angle = door.hinges[0].clearance *
                       std::sin(std::atan(2.0 * nominal.load_offset->offset / length)) / length;
  const auto& ways = nominal.load_offset->turned;
  const double turned =
      0.5 * std::hypot(ways[1].lean - ways[0].lean, ways[1].set_back - ways[0].set_back);
  // A pin rests within 0.12 degrees of its place in a bore (tests/verification/rigid_door.cpp),
  // here of 1.15.
  BOOST_TEST(turned == angle * door.panel.height, boost::test_tools::tolerance(0.1));
}

// A side-hung door has its weight along the axis: the offset has no effect.
BOOST_AUTO_TEST_CASE(a_side_hung_door_has_no_load_offset)
{
  BOOST_TEST(solved_open(barrel_door()).load_offset == nullptr);
}
