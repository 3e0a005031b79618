// SPDX-License-Identifier: GPL-3.0-or-later
// What is read from a field of temperatures.
#define BOOST_TEST_MODULE temperature_summary
#include <boost/test/unit_test.hpp>

#include "meshing/door/mesh_density.hpp"
#include "meshing/sweep/door_mesher.hpp"
#include "solver/firing/critical_instant.hpp"
#include "tests/support/test_doors.hpp"

#include <algorithm>
#include <cmath>
#include <vector>

using namespace hangtrue;
using namespace hangtrue::test;

// A temperature that is linear over the door is known everywhere, between its nodes as well. It was
// read at the node nearest to the middle, 4 K off on one of two meshes of a door 1.3 m high.
BOOST_AUTO_TEST_CASE(the_middle_of_the_outside_is_between_nodes)
{
  door::Door door = barrel_door();
  door.panel.width = 31.0 * inch;
  door.stiffeners.push_back({door::StiffenerShape::tube, door::StiffenerRun::along, 14.0 * inch,
                             1.5 * inch, 0.125 * inch});
  const mesh::Mesh mesh = sweep::make_mesh(door, door::mesh_density(door, 1));
  const double depth = door::depth(door);
  const Vec3 middle{0.5 * door.panel.width, depth, 0.5 * door.panel.height};
  std::vector<double> temperature;
  double nearest = 1.0; // m
  for (const Vec3& node : mesh.door.nodes) {
    temperature.push_back(100.0 + 300.0 * node.x + 70.0 * node.z);
    nearest = std::min(nearest, norm(node - middle));
  }
  BOOST_REQUIRE(nearest > 1e-3);
  const double found = firing::temperature_summary(door, mesh.door, temperature).outside_middle;
  BOOST_TEST(found == 100.0 + 300.0 * middle.x + 70.0 * middle.z,
             boost::test_tools::tolerance(1e-9));
}
