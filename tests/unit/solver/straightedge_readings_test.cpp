// SPDX-License-Identifier: GPL-3.0-or-later
// A bow is read at the middle and the ends, wherever the mesh has its nodes.
#define BOOST_TEST_MODULE straightedge_readings
#include <boost/test/unit_test.hpp>

#include "meshing/door/mesh_density.hpp"
#include "meshing/sweep/door_mesher.hpp"
#include "solver/qoi/straightedge_readings.hpp"
#include "tests/support/test_doors.hpp"

#include <algorithm>
#include <cmath>

using namespace hangtrue;

// The nearest node was read once: up to 5 % beside the middle, on every mesh another
// (docs/mesh-error.md). A cell can represent a parabola, so it is read to rounding.
BOOST_AUTO_TEST_CASE(a_parabola_is_read_at_its_middle)
{
  const door::Door door = test::barrel_door();
  const double w = door.panel.width;
  const double h = door.panel.height;
  door::MeshDensity fine = door::mesh_density(door, 1);
  fine.panel_cell = 0.4 * w;
  fine.more_across = {0.31 * w};
  fine.more_along = {0.22 * h};
  const mesh::BodyMesh body = sweep::make_mesh(door, fine).door;
  double nearest = w;
  for (const auto& n : body.nodes)
    nearest = std::min(nearest, std::hypot(n.x - 0.5 * w, n.z - 0.5 * h));
  BOOST_TEST(nearest > 0.02 * w); // the middle is no node, or nothing is tested
  const double wide = 0.004;      // m, bow across
  const double high = -0.0015;    // m, along
  std::vector<Vec3> displacements;
  for (const auto& n : body.nodes)
    displacements.push_back(
        {0.0, 4.0 * wide * n.x * (w - n.x) / (w * w) + 4.0 * high * n.z * (h - n.z) / (h * h),
         0.0});
  const qoi::BowReadings read = qoi::bow_readings(door, body, displacements);
  const auto close_to = boost::test_tools::tolerance(1e-9);
  BOOST_TEST(read.outer_across == wide, close_to);
  BOOST_TEST(read.inner_along == high, close_to);
  BOOST_TEST(read.outer_corners == wide + high, close_to);
  double by_weights = 0.0;
  for (const auto& one : qoi::middle_against_corners(door, body))
    by_weights += one.weight * displacements[one.node].y;
  BOOST_TEST(by_weights == wide + high, close_to);
}
