// SPDX-License-Identifier: GPL-3.0-or-later
// The drawing of the open door: its content, and that all of it is on the page.
#define BOOST_TEST_MODULE elevation
#include <boost/test/unit_test.hpp>

#include "tests/support/test_doors.hpp"
#include "viz/figures/elevation_svg.hpp"

#include <boost/property_tree/xml_parser.hpp>

#include <cmath>
#include <set>
#include <sstream>

using namespace hangtrue;
using namespace hangtrue::test;
using Tree = boost::property_tree::ptree;

namespace
{

// Displacements and forces as plain numbers, so that they can be found again on the drawing.
analysis::OpenDoorResult solved(const door::Door& door)
{
  analysis::OpenDoorResult d;
  d.weight = 700.0;
  d.centre_of_gravity = {0.4 * door.panel.width, 0.02, 0.5 * door.panel.height};
  d.corners = {{qoi::DoorCorner::lower_latch, {-0.0004, 0.0, -0.0011}},
               {qoi::DoorCorner::upper_latch, {0.0004, 0.0, -0.0011}},
               {qoi::DoorCorner::lower_hinge, {-0.0004, 0.0, 0.0}},
               {qoi::DoorCorner::upper_hinge, {0.0004, 0.0, 0.0}}};
  d.drop = 0.0011;
  const double height[2] = {0.1, 0.6};
  for (int h = 0; h < 2; ++h) {
    const double contact_force = h == 0 ? 450.0 : -450.0;
    d.knuckles.push_back({h,
                          1,
                          door::KnuckleOwner::door,
                          {0.0, 0.0, height[h]},
                          {contact_force, 0.0, 0.0},
                          h == 0 ? 700.0 : 0.0,
                          {},
                          0.0});
    d.knuckles.push_back({h,
                          0,
                          door::KnuckleOwner::frame,
                          {0.0, 0.0, height[h]},
                          {-contact_force, 0.0, 0.0},
                          0.0,
                          {},
                          0.0});
  }
  return d;
}

const figures::ElevationFormatter& plain_units()
{
  static const figures::ElevationFormatter words{
      [](double m) { return std::to_string(std::lround(1e6 * m)) + " um"; },
      [](double m) { return std::to_string(std::lround(1e3 * m)) + " mm"; },
      [](double n) { return std::to_string(std::lround(n)) + " N"; }};
  return words;
}

// The drawing as another reader of XML sees it; a text that is not well formed throws.
Tree parsed(const std::string& svg)
{
  std::istringstream in(svg);
  Tree tree;
  boost::property_tree::read_xml(in, tree);
  return tree.get_child("svg");
}

std::multiset<std::string> texts_of(const Tree& svg)
{
  std::multiset<std::string> texts;
  for (const auto& [tag, item] : svg)
    if (tag == "text")
      texts.insert(item.data());
  return texts;
}

struct Box {
  double left;
  double right;
  double top;
  double bottom;
  std::string what;
};

// A letter of a common sans-serif is 0.5 to 0.6 of its size wide on average: 0.6 errs on the safe
// side.
Box box_of(const Tree& text)
{
  const double size = text.get<double>("<xmlattr>.font-size");
  const double width = 0.6 * size * static_cast<double>(text.data().size());
  const std::string anchor = text.get<std::string>("<xmlattr>.text-anchor");
  const double x = text.get<double>("<xmlattr>.x");
  const double y = text.get<double>("<xmlattr>.y");
  const double left = anchor == "start" ? x : anchor == "end" ? x - width : x - 0.5 * width;
  return {left, left + width, y - 0.8 * size, y + 0.2 * size, text.data()};
}

std::vector<Box> boxes_of(const Tree& svg)
{
  std::vector<Box> boxes;
  for (const auto& [tag, item] : svg)
    if (tag == "text")
      boxes.push_back(box_of(item));
  return boxes;
}

std::vector<door::Door> doors_of_all_shapes()
{
  std::vector<door::Door> doors;
  for (const double width : {8.0, 12.0, 30.0, 72.0})
    for (const double height : {24.0, 36.0, 84.0})
      for (const door::HingeEdge hanging : {door::HingeEdge::side, door::HingeEdge::top}) {
        door::Door door = barrel_door();
        door.panel.width = width * inch;
        door.panel.height = height * inch;
        door.hinges[1].position = (height - 5.25) * inch;
        door.hanging = hanging;
        door.handle = {250.0, 0.5 * door.panel.height};
        doors.push_back(door);
      }
  doors[0].name = "A door with a very long name, of the third oven on the left behind the store";
  return doors;
}

} // namespace

BOOST_AUTO_TEST_CASE(the_drawing_shows_the_results)
{
  door::Door door = barrel_door();
  door.handle = {250.0, 0.3};
  const auto texts = texts_of(parsed(figures::elevation_svg(door, solved(door), plain_units())));
  BOOST_TEST(texts.count("1100 um") == 1U);      // drop of the latch corner
  BOOST_TEST(texts.count("weight 700 N") == 1U); // at the centre of gravity
  BOOST_TEST(texts.count("700 N") == 1U);        // carried by the lower hinge
  BOOST_TEST(texts.count("450 N") == 2U);        // couple, once at each hinge
  BOOST_TEST(texts.count("load 250 N") == 1U);
  BOOST_TEST(texts.count("762 mm wide, 762 mm high; dashed: as drawn, solid: as it hangs") == 1U);
}

BOOST_AUTO_TEST_CASE(names_are_escaped)
{
  door::Door door = barrel_door();
  door.name = "<b> & \"co\"";
  BOOST_TEST(texts_of(parsed(figures::elevation_svg(door, solved(door), plain_units())))
                 .count(door.name) == 1U);
}

// U+FFFE is no character of XML (XML 1.0, production 2): one in a name made the drawing unreadable.
BOOST_AUTO_TEST_CASE(a_name_may_contain_what_xml_may_not)
{
  door::Door door = barrel_door();
  door.name = "A\uFFFEB\u202EC\x01\xFF";
  const std::string svg = figures::elevation_svg(door, solved(door), plain_units());
  BOOST_TEST(texts_of(parsed(svg)).count("ABC\uFFFD") == 1U);
  for (const std::string none : {"\uFFFE", "\u202E", "\x01", "\xFF"})
    BOOST_TEST(svg.find(none) == std::string::npos);
}

BOOST_AUTO_TEST_CASE(the_scale_is_round_and_keeps_the_displacement_small)
{
  const door::Door door = barrel_door();
  analysis::OpenDoorResult d = solved(door);
  // 0.762 m / 20 / 0.0011 m = 34.6: the next round scale below is 20.
  BOOST_TEST(figures::movement_scale(door, d) == 20.0);
  const std::set<double> round{1, 2, 5, 10, 20, 50, 100, 200, 500, 1000, 2000, 5000};
  for (double maximum = 1e-5; maximum < 0.03; maximum *= 1.3) {
    for (auto& c : d.corners)
      c.move.z = -maximum;
    d.corners[0].move.x = d.corners[1].move.x = 0.0;
    d.corners[2].move.x = d.corners[3].move.x = 0.0;
    const double scale = figures::movement_scale(door, d);
    BOOST_TEST(round.count(scale) == 1U);
    BOOST_TEST(scale * maximum <= door.panel.width / 20.0);
    BOOST_TEST(2.5 * scale * maximum >= door.panel.width / 20.0 * (1.0 - 1e-12));
  }
}

BOOST_AUTO_TEST_CASE(text_stays_on_the_page_and_apart)
{
  for (const door::Door& door : doors_of_all_shapes())
    BOOST_TEST_CONTEXT(door.panel.width << " x " << door.panel.height << " m")
    {
      const Tree svg = parsed(figures::elevation_svg(door, solved(door), plain_units()));
      const double width = svg.get<double>("<xmlattr>.width");
      const double height = svg.get<double>("<xmlattr>.height");
      const auto boxes = boxes_of(svg);
      for (std::size_t i = 0; i < boxes.size(); ++i) {
        const Box& a = boxes[i];
        BOOST_TEST((a.left >= 0.0 && a.right <= width && a.top >= 0.0 && a.bottom <= height),
                   a.what << " leaves the page");
        for (std::size_t j = 0; j < i; ++j) {
          const Box& b = boxes[j];
          BOOST_TEST(
              (a.right <= b.left || b.right <= a.left || a.bottom <= b.top || b.bottom <= a.top),
              a.what << " lies over " << b.what);
        }
      }
    }
}
