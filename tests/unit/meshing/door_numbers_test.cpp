// SPDX-License-Identifier: GPL-3.0-or-later
// Every number of a door is finite and of the right sign before any rule compares it.
#include <boost/test/unit_test.hpp>

#include "meshing/door/door.hpp"
#include "tests/support/test_doors.hpp"

#include <algorithm>
#include <functional>
#include <limits>
#include <string>
#include <vector>

using namespace hangtrue;
using hangtrue::test::inch;

namespace
{

using Value = std::function<double&(door::Door&)>;

bool has_fault(const door::Door& door, const std::string& key)
{
  const auto found = door::faults(door);
  return std::any_of(found.begin(), found.end(),
                     [&](const door::DoorFault& f) { return f.key == key; });
}

// A number of the door under the name that the door file has for it.
struct Named {
  std::string key;
  Value value;
};

std::vector<Named> numbers_of_hinge(std::size_t i)
{
  const std::string h = "hinge[" + std::to_string(i) + "].";
  return {
      {h + "at", [=](door::Door& d) -> double& { return d.hinges[i].position; }},
      {h + "leaf_length", [=](door::Door& d) -> double& { return d.hinges[i].leaf.length; }},
      {h + "leaf_width", [=](door::Door& d) -> double& { return d.hinges[i].leaf.width; }},
      {h + "leaf_thickness", [=](door::Door& d) -> double& { return d.hinges[i].leaf.thickness; }},
      {h + "standoff", [=](door::Door& d) -> double& { return d.hinges[i].leaf.standoff; }},
      {h + "knuckle_length",
       [=](door::Door& d) -> double& { return d.hinges[i].knuckles[1].length; }},
      {h + "knuckle_gap", [=](door::Door& d) -> double& { return d.hinges[i].knuckle_gap; }},
      {h + "outside_diameter",
       [=](door::Door& d) -> double& { return d.hinges[i].outside_diameter; }},
      {h + "pin_diameter", [=](door::Door& d) -> double& { return d.hinges[i].pin_diameter; }},
      {h + "clearance", [=](door::Door& d) -> double& { return d.hinges[i].clearance; }},
      {h + "end_float", [=](door::Door& d) -> double& { return d.hinges[i].end_float; }},
      {h + "weld_leg", [=](door::Door& d) -> double& { return d.hinges[i].weld_leg; }}};
}

std::vector<Named> numbers_of_door()
{
  std::vector<Named> all{
      {"door.width", [](door::Door& d) -> double& { return d.panel.width; }},
      {"door.height", [](door::Door& d) -> double& { return d.panel.height; }},
      {"door.reveal", [](door::Door& d) -> double& { return d.reveal; }},
      {"door.swing", [](door::Door& d) -> double& { return d.swing; }},
      {"door.temperature", [](door::Door& d) -> double& { return d.temperature; }},
      {"skins.outer", [](door::Door& d) -> double& { return d.panel.outer_skin; }},
      {"skins.inner", [](door::Door& d) -> double& { return d.panel.inner_skin; }},
      {"rim.width", [](door::Door& d) -> double& { return d.rim.width; }},
      {"rim.depth", [](door::Door& d) -> double& { return d.rim.depth; }},
      {"rim.wall", [](door::Door& d) -> double& { return d.rim.wall; }},
      {"stiffener[0].at", [](door::Door& d) -> double& { return d.stiffeners[0].position; }},
      {"stiffener[0].width", [](door::Door& d) -> double& { return d.stiffeners[0].width; }},
      {"stiffener[0].wall", [](door::Door& d) -> double& { return d.stiffeners[0].wall; }},
      {"insulation.density", [](door::Door& d) -> double& { return d.insulation.density; }},
      {"jamb.thickness", [](door::Door& d) -> double& { return d.jamb.thickness; }},
      {"jamb.free_width", [](door::Door& d) -> double& { return d.jamb.free_width; }},
      {"jamb.flange_depth", [](door::Door& d) -> double& { return d.jamb.flange_depth; }},
      {"handle.force", [](door::Door& d) -> double& { return d.handle.force; }},
      {"handle.at", [](door::Door& d) -> double& { return d.handle.position; }},
      {"handle.breadth", [](door::Door& d) -> double& { return d.handle.breadth; }},
      {"fire.schedule", [](door::Door& d) -> double& { return d.fire.schedule[0].time; }},
      {"fire.schedule", [](door::Door& d) -> double& { return d.fire.schedule[1].gas; }},
      {"fire.film", [](door::Door& d) -> double& { return d.fire.film; }},
      {"fire.ambient", [](door::Door& d) -> double& { return d.fire.ambient; }},
      {"fire.emissivity_inside", [](door::Door& d) -> double& { return d.fire.emissivity_inside; }},
      {"fire.emissivity_outside",
       [](door::Door& d) -> double& { return d.fire.emissivity_outside; }},
      {"fire.gasket_inset", [](door::Door& d) -> double& { return d.fire.gasket_inset; }},
      {"steel.density", [](door::Door& d) -> double& { return d.steel.density; }},
      {"steel.youngs_modulus", [](door::Door& d) -> double& { return d.steel.youngs_modulus; }},
      {"steel.yield", [](door::Door& d) -> double& { return d.steel.yield; }},
      {"steel.ultimate", [](door::Door& d) -> double& { return d.steel.ultimate; }},
      {"pin_steel.youngs_modulus",
       [](door::Door& d) -> double& { return d.pin_steel.youngs_modulus; }}};
  for (const std::size_t i : {0U, 1U})
    for (auto& named : numbers_of_hinge(i))
      all.push_back(std::move(named));
  return all;
}

// A door that uses every number above.
door::Door full_door()
{
  door::Door door = test::barrel_door();
  door.stiffeners.push_back({door::StiffenerShape::tube, door::StiffenerRun::across, 15.0 * inch,
                             1.0 * inch, 0.125 * inch});
  door.jamb = {0.25 * inch, 4.0 * inch, door::JambBacking::flange, 1.5 * inch};
  door.handle = {200.0, 15.0 * inch};
  door.fire.schedule = {{0.0, 20.0}, {1800.0, 400.0}};
  return door;
}

} // namespace

BOOST_AUTO_TEST_CASE(a_door_with_every_part_passes)
{
  BOOST_TEST(door::faults(full_door()).empty());
}

BOOST_AUTO_TEST_CASE(no_number_may_be_nan_infinite_or_negative)
{
  for (const auto& [key, value] : numbers_of_door())
    for (const double bad : {std::numeric_limits<double>::quiet_NaN(),
                             std::numeric_limits<double>::infinity(), -1000.0}) {
      door::Door door = full_door();
      value(door) = bad;
      BOOST_TEST(has_fault(door, key), key << " may be " << bad);
    }
}

// What a NaN affects is not checked: one number, one fault.
BOOST_AUTO_TEST_CASE(a_nan_is_reported_once)
{
  door::Door door = full_door();
  door.panel.height = std::numeric_limits<double>::quiet_NaN();
  BOOST_TEST(door::faults(door).size() == 1U);
}

BOOST_AUTO_TEST_CASE(sizes_of_zero)
{
  for (const std::string key : {"door.width", "door.height", "skins.outer", "skins.inner",
                                "rim.width", "rim.depth", "rim.wall", "jamb.thickness"})
    for (const auto& named : numbers_of_door())
      if (named.key == key) {
        door::Door door = full_door();
        named.value(door) = 0.0;
        BOOST_TEST(has_fault(door, key), key);
      }
}

BOOST_AUTO_TEST_CASE(times_of_a_firing_rise)
{
  for (const double late : {1800.0, 600.0, 0.0}) {
    door::Door door = full_door();
    door.fire.schedule.push_back({late, 20.0}); // after 1800 s
    BOOST_TEST(has_fault(door, "fire.schedule"), late);
  }
  door::Door door = full_door();
  door.fire.schedule.push_back({1801.0, 20.0});
  BOOST_TEST(door::faults(door).empty());
}
