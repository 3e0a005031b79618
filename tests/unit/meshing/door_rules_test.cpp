// SPDX-License-Identifier: GPL-3.0-or-later
// Rules between the values of a door: each is broken once, and the range that it offers repairs it.
// The margins (1 mm of wall, 0.5 mm of clearance and so on) are common practice, no source.
#define BOOST_TEST_MODULE door_rules
#include <boost/test/unit_test.hpp>

#include "tests/support/random_doors.hpp"
#include "tests/support/test_doors.hpp"

#include <algorithm>
#include <cmath>
#include <functional>
#include <numbers>
#include <string>
#include <utility>
#include <vector>

using namespace hangtrue;
using hangtrue::test::barrel_door;
using hangtrue::test::inch;
using hangtrue::test::lug_door;

namespace
{

constexpr double mm = 1e-3;

using Value = std::function<double&(door::Door&)>;

const door::DoorFault* fault_of(const std::vector<door::DoorFault>& found, const std::string& key)
{
  const auto fault = std::find_if(found.begin(), found.end(),
                                  [&key](const door::DoorFault& f) { return f.key == key; });
  return fault == found.end() ? nullptr : &*fault;
}

bool has_fault(const door::Door& door, const std::string& key)
{
  const auto found = door::faults(door);
  return fault_of(found, key) != nullptr;
}

// Sets a value, expects a fault at its key with that range, and that both ends of the range and its
// middle are accepted. Ranges are in m and were worked out by hand from the nominal sizes; 1e-9 m
// is the round-off of their sums.
void breaks(door::Door door, const std::string& key, const Value& value, double bad, double from,
            double to)
{
  BOOST_TEST_CONTEXT(key << " = " << bad)
  {
    value(door) = bad;
    const auto found = door::faults(door);
    const door::DoorFault* fault = fault_of(found, key);
    BOOST_REQUIRE(fault != nullptr);
    BOOST_TEST(fault->found == bad);
    BOOST_TEST(std::abs(fault->allowed_from - from) < 1e-9, fault->allowed_from << " not " << from);
    BOOST_TEST(std::abs(fault->allowed_to - to) < 1e-9, fault->allowed_to << " not " << to);
    BOOST_TEST(!fault->reason.empty());
    BOOST_TEST(!fault->repair.empty());
    BOOST_TEST(!fault->plain);
    for (const double good : {from + 1e-6, 0.5 * (from + to), to - 1e-6}) {
      value(door) = good;
      BOOST_TEST(!has_fault(door, key), "refuses " << good);
    }
  }
}

Value hinge_value(std::size_t i, double door::Hinge::*member)
{
  return [=](door::Door& door) -> double& { return door.hinges[i].*member; };
}

Value leaf_value(std::size_t i, double door::Leaf::*member)
{
  return [=](door::Door& door) -> double& { return door.hinges[i].leaf.*member; };
}

} // namespace

BOOST_AUTO_TEST_CASE(sound_doors_pass)
{
  for (const door::PinFixity pin : {door::PinFixity::floating, door::PinFixity::fixed}) {
    BOOST_TEST(door::faults(barrel_door(pin)).empty());
    BOOST_TEST(door::faults(lug_door(pin)).empty());
  }
}

BOOST_AUTO_TEST_CASE(rim)
{
  const Value width = [](door::Door& d) -> double& { return d.rim.width; };
  const Value wall = [](door::Door& d) -> double& { return d.rim.wall; };
  // 0.45 of 30 in; twice a wall of 1/8 in and 1 mm.
  breaks(barrel_door(), "rim.width", width, 20.0 * inch, 0.25 * inch + mm, 13.5 * inch);
  breaks(barrel_door(), "rim.width", width, 0.2 * inch, 0.25 * inch + mm, 13.5 * inch);
  // Half of a depth of 1-1/2 in, less 1 mm.
  breaks(barrel_door(), "rim.wall", wall, 0.8 * inch, 0.5 * mm, 0.75 * inch - mm);
  door::Door low = barrel_door();
  low.panel.height = 6.0 * inch;
  low.hinges.resize(1);
  low.hinges[0].position = 3.0 * inch;
  breaks(low, "rim.width", width, 7.0 * inch, 0.25 * inch + mm, 2.7 * inch);
}

BOOST_AUTO_TEST_CASE(stiffeners)
{
  door::Door door = barrel_door();
  door.panel.width = 40.0 * inch;
  const Value first = [](door::Door& d) -> double& { return d.stiffeners[0].position; };
  const Value second = [](door::Door& d) -> double& { return d.stiffeners[1].position; };
  const Value width = [](door::Door& d) -> double& { return d.stiffeners[0].width; };
  const Value wall = [](door::Door& d) -> double& { return d.stiffeners[0].wall; };
  door.stiffeners = {
      {door::StiffenerShape::flat_bar, door::StiffenerRun::across, 10.0 * inch, 0.25 * inch, 0.0}};
  // Rim 1-1/2 in, half of 1/4 in, 2 mm; across counts along the height of 30 in.
  breaks(door, "stiffener[0].at", first, 1.0 * inch, 1.625 * inch + 2.0 * mm,
         28.375 * inch - 2.0 * mm);
  door.stiffeners[0].run = door::StiffenerRun::along; // and along counts across the width of 40 in
  breaks(door, "stiffener[0].at", first, 39.0 * inch, 1.625 * inch + 2.0 * mm,
         38.375 * inch - 2.0 * mm);
  breaks(door, "stiffener[0].width", width, 38.0 * inch, 0.5 * mm, 37.0 * inch - 4.0 * mm);

  door.stiffeners.push_back({door::StiffenerShape::tube, door::StiffenerRun::along, 20.0 * inch,
                             1.0 * inch, 0.125 * inch});
  // Half of 1/4 in and of 1 in, and 1 mm between; the side where it is now is offered.
  breaks(door, "stiffener[1].at", second, 10.25 * inch, 10.625 * inch + mm, 38.0 * inch - 2.0 * mm);
  breaks(door, "stiffener[1].at", second, 9.75 * inch, 2.0 * inch + 2.0 * mm, 9.375 * inch - mm);
  door.stiffeners[1].run = door::StiffenerRun::across; // one that crosses it is no neighbour
  door.stiffeners[1].position = 10.25 * inch;
  BOOST_TEST(door::faults(door).empty());

  door.stiffeners.resize(1);
  door.stiffeners[0] = {door::StiffenerShape::tube, door::StiffenerRun::along, 20.0 * inch,
                        1.0 * inch, 0.002};
  breaks(door, "stiffener[0].wall", wall, 0.5 * inch, 0.5 * mm, 0.5 * inch - 0.5 * mm);
}

BOOST_AUTO_TEST_CASE(number_of_hinges)
{
  door::Door door = barrel_door();
  door.hinges.clear();
  BOOST_TEST(has_fault(door, "hinge"));
  door = barrel_door();
  door.panel.height = 60.0 * inch;
  for (const double position : {35.0, 45.0}) {
    door.hinges.push_back(door.hinges[1]);
    door.hinges.back().position = position * inch;
  }
  BOOST_TEST(door::faults(door).empty()); // four
  door.hinges.push_back(door.hinges[1]);
  door.hinges.back().position = 55.0 * inch;
  const auto found = door::faults(door);
  const door::DoorFault* fault = fault_of(found, "hinge");
  BOOST_REQUIRE(fault != nullptr);
  BOOST_TEST(fault->plain);
  BOOST_TEST(fault->found == 5.0);
  BOOST_TEST(fault->allowed_from == 1.0);
  BOOST_TEST(fault->allowed_to == 4.0);
}

BOOST_AUTO_TEST_CASE(position_of_a_hinge)
{
  const Value lower = hinge_value(0, &door::Hinge::position);
  const Value upper = hinge_value(1, &door::Hinge::position);
  // Half a leaf of 4-1/2 in and 1 mm from each end of 30 in.
  door::Door single = barrel_door();
  single.hinges.resize(1);
  breaks(single, "hinge[0].at", lower, 29.0 * inch, 2.25 * inch + mm, 27.75 * inch - mm);
  breaks(single, "hinge[0].at", lower, 1.0 * inch, 2.25 * inch + mm, 27.75 * inch - mm);
  // Above the lower one at 5-1/4 in by a leaf and 1 mm.
  breaks(barrel_door(), "hinge[1].at", upper, 8.0 * inch, 9.75 * inch + mm, 27.75 * inch - mm);
  // The upper one first in the file: the other belongs below it.
  door::Door turned = barrel_door();
  std::swap(turned.hinges[0].position, turned.hinges[1].position);
  breaks(turned, "hinge[1].at", upper, 22.0 * inch, 2.25 * inch + mm, 20.25 * inch - mm);
  // No space above the first: below it, though the second was given above.
  breaks(turned, "hinge[1].at", upper, 25.0 * inch, 2.25 * inch + mm, 20.25 * inch - mm);
  // Spans that touch are 1 mm short.
  door::Door touching = barrel_door();
  touching.hinges[1].position = 9.75 * inch;
  BOOST_TEST(has_fault(touching, "hinge[1].at"));
}

BOOST_AUTO_TEST_CASE(a_hinge_longer_than_the_door)
{
  door::Door door = barrel_door();
  door.hinges.resize(1);
  breaks(door, "hinge[0].leaf_length", leaf_value(0, &door::Leaf::length), 31.0 * inch,
         4.5 * inch - 1e-9, 30.0 * inch - 2.0 * mm);
  // Lugs have no leaf: three lugs of 1/2 in and two gaps of 15 in make 31-1/2 in.
  door = lug_door();
  door.hinges.resize(1);
  door.hinges[0].knuckle_gap = 15.0 * inch;
  const auto found = door::faults(door);
  const door::DoorFault* fault = fault_of(found, "hinge[0].knuckle_length");
  BOOST_REQUIRE(fault != nullptr);
  BOOST_TEST(std::abs(fault->found - 31.5 * inch) < 1e-9);
  BOOST_TEST(fault->reason.find("gaps") != std::string::npos);
}

BOOST_AUTO_TEST_CASE(knuckles)
{
  // Three knuckles of 1-1/2 in; with gaps of 1/8 in 4-3/4 in.
  const Value leaf = leaf_value(0, &door::Leaf::length);
  breaks(barrel_door(), "hinge[0].leaf_length", leaf, 4.0 * inch, 4.5 * inch - 1e-9,
         30.0 * inch - 2.0 * mm);
  door::Door door = barrel_door();
  door.hinges[0].knuckle_gap = 0.125 * inch;
  BOOST_TEST(has_fault(door, "hinge[0].leaf_length"));
  door.hinges[0].leaf.length = 4.75 * inch;
  BOOST_TEST(door::faults(door).empty());

  door = barrel_door();
  door.hinges[0].knuckles.resize(1);
  BOOST_TEST(has_fault(door, "hinge[0].knuckles"));
  door.hinges[0].knuckles.clear();
  BOOST_TEST(has_fault(door, "hinge[0].knuckles"));

  door = barrel_door();
  door.hinges[1].knuckles[1].owner = door::KnuckleOwner::frame; // none of the door
  const auto found = door::faults(door);
  const door::DoorFault* fault = fault_of(found, "hinge[1].first_knuckle");
  BOOST_REQUIRE(fault != nullptr);
  BOOST_TEST(fault->plain);
  BOOST_TEST(fault->found == 0.0);
  BOOST_TEST(fault->allowed_from == 2.0);
  BOOST_TEST(fault->allowed_to == 2.0);
  door = lug_door();
  door.hinges[0].knuckles[0].owner = door::KnuckleOwner::door; // two neighbours of one half
  BOOST_TEST(has_fault(door, "hinge[0].first_knuckle"));
  door.hinges[0].knuckles[1].owner = door::KnuckleOwner::frame;
  door.hinges[0].knuckles[2].owner =
      door::KnuckleOwner::door; // the door's outside: turned, but in turns
  BOOST_TEST(door::faults(door).empty());
}

// A side-hung door of two-knuckle hinges whose own knuckle is the lower one slides off its pins.
BOOST_AUTO_TEST_CASE(a_door_rests_on_a_knuckle_of_the_frame)
{
  door::Door door = barrel_door();
  for (auto& hinge : door.hinges)
    hinge.knuckles = {{door::KnuckleOwner::door, 1.5 * inch},
                      {door::KnuckleOwner::frame, 1.5 * inch}};
  const auto found = door::faults(door);
  BOOST_REQUIRE(found.size() == 1U);
  BOOST_TEST(found[0].key == "hinge[0].first_knuckle");
  BOOST_TEST(found[0].plain);
  BOOST_TEST(found[0].found == 0.0);
  BOOST_TEST(found[0].allowed_from == 1.0);
  door::Door flap = door; // its pins are level
  flap.hanging = door::HingeEdge::top;
  BOOST_TEST(door::faults(flap).empty());
  std::swap(door.hinges[1].knuckles[0].owner, door.hinges[1].knuckles[1].owner);
  BOOST_TEST(door::faults(door).empty()); // one hinge is enough
}

BOOST_AUTO_TEST_CASE(pin_bore_and_barrel)
{
  const Value clearance = hinge_value(0, &door::Hinge::clearance);
  const Value outside = hinge_value(0, &door::Hinge::outside_diameter);
  breaks(barrel_door(), "hinge[0].clearance", clearance, 0.0, 5e-6, 0.5 * inch);
  breaks(barrel_door(), "hinge[0].clearance", clearance, 0.6 * inch, 5e-6, 0.5 * inch);
  // Bore 1.018 in and 1 mm of wall on each side; a standoff that clears the largest barrel.
  breaks(lug_door(), "hinge[0].outside_diameter", outside, 1.0 * inch, 1.018 * inch + 2.0 * mm,
         0.3);
  door::Door door = barrel_door();
  door.hinges[0].pin_diameter = 1.6 * inch; // larger than its barrel
  BOOST_TEST(has_fault(door, "hinge[0].outside_diameter"));
}

BOOST_AUTO_TEST_CASE(pin_axis_over_the_face)
{
  // All pins lie on one axis, so one hinge is enough here.
  door::Door barrels = barrel_door();
  barrels.hinges.resize(1);
  door::Door lugs = lug_door();
  lugs.hinges.resize(1);
  const Value standoff = leaf_value(0, &door::Leaf::standoff);
  // Barrel of 3/4 in outside radius and 5 % above a leaf of 1/4 in, 0.5 mm of air.
  breaks(barrels, "hinge[0].standoff", standoff, 1.0 * inch, 1.0375 * inch + 0.5 * mm, 0.5);
  // Lug end of 1 in outside radius and 10 %.
  breaks(lugs, "hinge[0].standoff", standoff, 1.05 * inch, 1.1 * inch, 0.5);
  // The web is beside half the reveal of 3/16 in and meets a barrel of 3/4 in up to 85 %.
  breaks(barrels, "hinge[0].leaf_thickness", leaf_value(0, &door::Leaf::thickness), 0.6 * inch, mm,
         0.6375 * inch - 3.0 / 32.0 * inch);
  door::Door door = barrel_door();
  door.hinges[1].leaf.standoff = 2.25 * inch;
  BOOST_TEST(has_fault(door, "hinge[1].standoff"));
}

BOOST_AUTO_TEST_CASE(feet_and_welds)
{
  const Value width = leaf_value(0, &door::Leaf::width);
  // Two beads of 3/16 in and 2 mm; the jamb plate of 4 in.
  breaks(barrel_door(), "hinge[0].leaf_width", width, 0.3 * inch, 0.375 * inch + 2.0 * mm,
         4.0 * inch);
  breaks(barrel_door(), "hinge[0].leaf_width", width, 5.0 * inch, 0.375 * inch + 2.0 * mm,
         4.0 * inch);
  door::Door full_face = barrel_door(); // no beads: the leaf's thickness and 2 mm
  full_face.hinges[0].weld = door::WeldExtent::full_face;
  breaks(full_face, "hinge[0].leaf_width", width, 0.26 * inch, 0.25 * inch + 2.0 * mm, 4.0 * inch);
  door::Door narrow = barrel_door(); // half the door
  narrow.panel.width = 6.0 * inch;
  breaks(narrow, "hinge[0].leaf_width", width, 3.5 * inch, 0.375 * inch + 2.0 * mm, 3.0 * inch);
  breaks(lug_door(), "hinge[0].leaf_width", width, 9.0 * mm, 10.0 * mm, 4.0 * inch);
  breaks(barrel_door(), "hinge[0].weld_leg", hinge_value(0, &door::Hinge::weld_leg), 0.3 * inch, mm,
         0.25 * inch);
}

BOOST_AUTO_TEST_CASE(jamb_handle_fire_and_swing)
{
  door::Door flanged = barrel_door();
  flanged.jamb = {0.25 * inch, 4.0 * inch, door::JambBacking::flange, 1.5 * inch};
  const Value flange = [](door::Door& d) -> double& { return d.jamb.flange_depth; };
  breaks(flanged, "jamb.flange_depth", flange, 0.0, 0.5 * mm, 4.0);
  door::Door edge = barrel_door(); // without a flange its depth says nothing
  edge.jamb.flange_depth = 0.0;
  BOOST_TEST(door::faults(edge).empty());
  door::Door thick = flanged; // the flange's own thickness fits twice: leaves are on one half of it
  thick.jamb.thickness = 2.5 * inch;
  BOOST_TEST(has_fault(thick, "jamb.free_width"));
  const Value handle = [](door::Door& d) -> double& { return d.handle.position; };
  breaks(flanged, "handle.at", handle, 31.0 * inch, 0.0, 30.0 * inch);
  const Value gasket = [](door::Door& d) -> double& { return d.fire.gasket_inset; };
  breaks(flanged, "fire.gasket_inset", gasket, 14.0 * inch, mm, 13.5 * inch); // 0.45 of 30 in
  door::Door flat = flanged;
  flat.swing = std::numbers::pi;
  BOOST_TEST(door::faults(flat).empty());
  flat.swing = 1.01 * std::numbers::pi;
  BOOST_TEST(has_fault(flat, "door.swing"));
}

BOOST_AUTO_TEST_CASE(all_faults_come_out_together)
{
  door::Door door = barrel_door();
  door.rim.width = 20.0 * inch;
  door.hinges[0].clearance = 0.0;
  door.hinges[1].position = 29.0 * inch;
  door.handle.position = 40.0 * 0.0254;
  for (const std::string key : {"rim.width", "hinge[0].clearance", "hinge[1].at", "handle.at"})
    BOOST_TEST(has_fault(door, key), key);
}

// Whatever the other sizes: a hinge that overlaps another is refused, and in the middle of the
// offered range it is accepted, when any range is offered.
BOOST_AUTO_TEST_CASE(offered_positions_are_accepted_for_random_doors)
{
  test::RandomDoors doors(7);
  int offered = 0;
  for (int n = 0; n < 200; ++n) {
    door::Door door = doors.next();
    if (door.hinges.size() < 2)
      continue;
    door.hinges.resize(2);
    if (n % 2 == 1)
      std::swap(door.hinges[0], door.hinges[1]);
    door.hinges[1].position = door.hinges[0].position + (n % 3 - 1) * 2.0 * mm;
    const auto found = door::faults(door);
    const door::DoorFault* fault = fault_of(found, "hinge[1].at");
    BOOST_REQUIRE(fault != nullptr);
    BOOST_TEST(fault->allowed_from <= fault->allowed_to); // two fitted before: there is space
    door.hinges[1].position = 0.5 * (fault->allowed_from + fault->allowed_to);
    BOOST_TEST(door::faults(door).empty());
    ++offered;
  }
  BOOST_TEST(offered > 50);
}
