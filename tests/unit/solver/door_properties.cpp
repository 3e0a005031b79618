// SPDX-License-Identifier: GPL-3.0-or-later
// What must hold of any door: units do not matter, a mirrored door mirrors, more weight and more
// play never drop less. Few cases on coarse meshes; RC_PARAMS="max_success=100" asks for more.
#define BOOST_TEST_MODULE door_properties
#include <boost/test/unit_test.hpp>

#include "cases/input/door_file.hpp"
#include "meshing/door/mesh_density.hpp"
#include "meshing/sweep/door_mesher.hpp"
#include "solver/analysis/open_analysis.hpp"
#include "solver/qoi/corner_displacements.hpp"
#include "tests/support/test_doors.hpp"

#include <fmt/format.h>
#include <rapidcheck.h>

#include <algorithm>
#include <cmath>
#include <cstdlib>
#include <string>

using namespace hangtrue;
using namespace hangtrue::test;

namespace
{

// A door takes a second or two: one of each in a plain run, with the same seed every time.
struct FewCases {
  FewCases() { setenv("RC_PARAMS", "max_success=1 seed=20261125 noshrink=1", 0); }
};

int sixteenths(int minimum, int maximum)
{
  return *rc::gen::inRange(minimum, maximum + 1);
}

// A door in sixteenths of an inch; `unit` writes a length.
std::string door_text(const std::function<std::string(int)>& length)
{
  const int height = sixteenths(16 * 20, 16 * 40);
  const int width = sixteenths(16 * 15, 16 * 35);
  const int pin = sixteenths(6, 18);
  std::string text =
      fmt::format("[door]\nwidth = \"{}\"\nheight = \"{}\"\n[skins]\nouter = \"{}\"\ninner = "
                  "\"{}\"\n[rim]\nwidth "
                  "= \"{}\"\ndepth = \"{}\"\n",
                  length(width), length(height), length(sixteenths(2, 5)), length(sixteenths(2, 5)),
                  length(sixteenths(16, 32)), length(sixteenths(16, 32)));
  for (const int index : {16 * 5, height - 16 * 5})
    text += fmt::format("[[hinge]]\nat = \"{}\"\npin_diameter = \"{}\"\noutside_diameter = \"{}\"\n"
                        "clearance = \"{}\"\n",
                        length(index), length(pin), length(pin + 12), length(1));
  return text;
}

analysis::OpenDoorResult solve_open(const door::Door& door)
{
  door::MeshDensity fine = door::mesh_density(door, 1);
  fine.panel_cell = std::max(door.panel.width, door.panel.height) / 3.0;
  fine.hinge_cell = fine.panel_cell;
  fine.around_pin = 12;
  return analysis::solve_open_door({.door = door, .mesh = sweep::make_mesh(door, fine)});
}

// The door of the tests with random sizes.
door::Door some_door()
{
  door::Door door =
      *rc::gen::element(barrel_door(), lug_door(), barrel_door(door::PinFixity::fixed));
  door.panel.width = sixteenths(16 * 18, 16 * 36) * inch / 16.0;
  door.panel.outer_skin = sixteenths(2, 5) * inch / 16.0;
  door.swing = sixteenths(0, 16) * std::numbers::pi / 16.0;
  for (auto& hinge : door.hinges)
    hinge.clearance = sixteenths(4, 40) * 0.001 * inch;
  return door;
}

} // namespace

BOOST_TEST_GLOBAL_FIXTURE(FewCases);

BOOST_AUTO_TEST_CASE(inches_and_millimetres_give_one_door)
{
  BOOST_TEST(rc::check([] {
    // The same draws twice: once written in inches, once in millimetres.
    std::vector<int> drawn;
    const std::string in = door_text([&](int n) {
      drawn.push_back(n);
      return fmt::format("{}-{}/16 in", n / 16, n % 16);
    });
    std::string mm = in;
    for (const int n : drawn) {
      const std::string inches = fmt::format("\"{}-{}/16 in\"", n / 16, n % 16);
      const auto at = mm.find(inches);
      if (at != std::string::npos)
        mm.replace(at, inches.size(), fmt::format("\"{:.10g} mm\"", 25.4 * n / 16.0));
    }
    RC_ASSERT(mm.find(" in\"") == std::string::npos);
    const door::Door a = input::read_door_text(in, "in.toml").door;
    const door::Door b = input::read_door_text(mm, "mm.toml").door;
    RC_ASSERT(std::abs(a.panel.width - b.panel.width) <= 1e-14);
    RC_ASSERT(std::abs(a.hinges[1].clearance - b.hinges[1].clearance) <= 1e-14);
    const double drop = solve_open(a).drop;
    RC_ASSERT(std::abs(solve_open(b).drop / drop - 1.0) < 1e-6);
  }));
}

// Found by the property above: a node at angle zero that rounding puts just below it came last on
// one circle of a thrust face and first on another, so every point of the face represented the node
// next to it. For every door, the list of a circle's nodes is in the order of its angles.
BOOST_AUTO_TEST_CASE(circles_list_their_nodes_by_angle)
{
  const auto off = [](const mesh::BodyMesh& body, const door::AxisPosition& axis, int node,
                      double angle) {
    const double there = std::atan2(body.nodes[node].y - axis.y, body.nodes[node].x - axis.x);
    return std::abs(std::remainder(there - angle, 2.0 * std::numbers::pi));
  };
  double worst = 0.0;
  for (int sixteenth = 0; sixteenth < 24; ++sixteenth) {
    door::Door door = sixteenth % 2 == 0 ? barrel_door() : lug_door();
    door.panel.width = (15.0 + sixteenth / 16.0) * inch;
    for (auto& hinge : door.hinges) {
      hinge.pin_diameter = (6.0 + sixteenth % 5) / 16.0 * inch;
      hinge.outside_diameter = hinge.pin_diameter + 0.75 * inch;
      hinge.clearance = inch / 16.0;
    }
    door::MeshDensity fine = door::mesh_density(door, 1);
    fine.panel_cell = door.panel.height;
    fine.hinge_cell = door.panel.height;
    fine.around_pin = 12;
    const mesh::Mesh mesh = sweep::make_mesh(door, fine);
    for (const mesh::HingeMesh& hinge : mesh.hinges)
      for (const mesh::KnuckleMesh& knuckle : hinge.knuckles) {
        const mesh::BodyMesh& body =
            knuckle.owner == door::KnuckleOwner::door ? mesh.door : mesh.frame;
        for (const mesh::Annulus* face : {&knuckle.lower, &knuckle.upper})
          for (const auto& circle : face->node)
            for (std::size_t a = 0; a < circle.size(); ++a)
              worst = std::max(worst, off(body, hinge.axis, circle[a], face->angle[a]));
        for (const auto& row : knuckle.bore.node)
          for (std::size_t a = 0; a < row.size(); ++a)
            worst = std::max(worst, off(body, hinge.axis, row[a], knuckle.bore.angle[a]));
      }
  }
  // Positions are exact to a hundredth of a micrometre or so; neighbours are 15 degrees apart.
  BOOST_TEST(worst < 1e-5);
}

// A flap seen in a mirror: hinges, knuckles and handle change sides, corners change places.
BOOST_AUTO_TEST_CASE(a_mirrored_flap_mirrors)
{
  BOOST_TEST(rc::check([] {
    door::Door door = some_door();
    door.hanging = *rc::gen::element(door::HingeEdge::top, door::HingeEdge::bottom);
    door.handle = {200.0, 0.25 * door.panel.height};
    door.hinges[0].position += sixteenths(0, 32) * inch / 16.0;
    door::Door mirrored = door;
    std::reverse(mirrored.hinges.begin(), mirrored.hinges.end());
    for (auto& hinge : mirrored.hinges) {
      hinge.position = door.panel.height - hinge.position;
      std::reverse(hinge.knuckles.begin(), hinge.knuckles.end());
    }
    mirrored.handle.position = door.panel.height - door.handle.position;
    const analysis::OpenDoorResult one = solve_open(door);
    const analysis::OpenDoorResult other = solve_open(mirrored);
    const auto corner = [](const analysis::OpenDoorResult& d, qoi::DoorCorner which) {
      return std::find_if(d.corners.begin(), d.corners.end(),
                          [&](const qoi::CornerDisplacement& c) { return c.corner == which; })
          ->move;
    };
    for (const auto& [here, there] :
         {std::pair{qoi::DoorCorner::lower_latch, qoi::DoorCorner::upper_latch},
          {qoi::DoorCorner::upper_latch, qoi::DoorCorner::lower_latch},
          {qoi::DoorCorner::lower_hinge, qoi::DoorCorner::upper_hinge}}) {
      const Vec3 a = corner(one, here);
      const Vec3 b = corner(other, there);
      RC_LOG() << qoi::corner_label(here) << ' ' << a.x << ' ' << a.y << ' ' << a.z << "; " << b.x
               << ' ' << b.y << ' ' << b.z;
      // Where nothing decides between two positions along the pin, it may be anywhere in its play.
      RC_ASSERT(std::hypot(a.x - b.x, a.y - b.y) < 0.005 * std::hypot(a.x, a.y) + 1e-8);
    }
  }));
}

BOOST_AUTO_TEST_CASE(more_weight_never_drops_less)
{
  BOOST_TEST(rc::check([] {
    door::Door door = some_door();
    const double drop = solve_open(door).drop;
    door.steel.density *= 3.0;
    RC_ASSERT(solve_open(door).drop > drop);
  }));
}

BOOST_AUTO_TEST_CASE(a_wider_bore_never_drops_less)
{
  BOOST_TEST(rc::check([] {
    door::Door door = some_door();
    const double drop = solve_open(door).drop;
    for (auto& hinge : door.hinges)
      hinge.clearance *= 1.5;
    RC_ASSERT(solve_open(door).drop >= drop);
  }));
}
