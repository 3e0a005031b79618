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
#include "solver/error/load_offset_check.hpp"
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
  BOOST_REQUIRE(plain.load_offset.has_value());
  const double offset = plain.load_offset->shift;
  BOOST_TEST(offset == 0.015 * inch, boost::test_tools::tolerance(1e-12));
  for (const auto& [side, way] : {std::pair{0, 1.0}, std::pair{1, -1.0}}) {
    const analysis::OpenDoorResult moved = solved_open(lid(15.0 * inch + way * offset, clearance));
    const error::TippedState& reported = plain.load_offset->sides.at(side);
    BOOST_TEST(reported.drop == moved.drop, boost::test_tools::tolerance(0.002));
    BOOST_TEST(reported.lean == moved.lean, boost::test_tools::tolerance(0.002));
  }
  // It tips over, in either direction, as far as the play allows.
  BOOST_TEST(plain.load_offset->sides[0].lean * plain.load_offset->sides[1].lean < 0.0);
}

// A side-hung door has its weight along the axis: the offset has no effect.
BOOST_AUTO_TEST_CASE(a_side_hung_door_has_no_load_offset)
{
  BOOST_TEST(!solved_open(barrel_door()).load_offset.has_value());
}
