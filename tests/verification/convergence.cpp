// SPDX-License-Identifier: GPL-3.0-or-later
// Drop and its elastic part under refinement: three meshes and the observed order.
//
// Source: Richardson, The deferred approach to the limit (1927). Where a fillet meets a plate the
// stress is singular, so quadratic cells do not reach their full order; the requirement is that the
// changes shrink and that the change from one level to the next bounds the remaining error.
#define BOOST_TEST_MODULE convergence
#include <boost/test/unit_test.hpp>

#include "meshing/door/mesh_density.hpp"
#include "meshing/sweep/door_mesher.hpp"
#include "solver/analysis/open_analysis.hpp"
#include "tests/support/book.hpp"
#include "tests/support/test_doors.hpp"

#include <cmath>
#include <vector>

using namespace hangtrue;
using namespace hangtrue::test;

BOOST_AUTO_TEST_CASE(drop_converges)
{
  // Reamed bores and a stiff jamb: clearance would hide the mesh.
  door::Door door = barrel_door();
  for (auto& hinge : door.hinges)
    hinge.clearance = 0.0035 * inch;
  std::vector<double> drop;
  std::vector<double> elastic;
  for (const int level : {1, 2, 4}) {
    const door::MeshDensity fine = door::mesh_density(door, level);
    const mesh::Mesh mesh = sweep::make_mesh(door, fine);
    const analysis::OpenDoorResult open = analysis::solve_open_door({.door = door, .mesh = mesh});
    drop.push_back(open.drop / inch);
    elastic.push_back(open.elastic_drop / inch);
    BOOST_TEST_MESSAGE("level " << level << ": drop " << drop.back() << " in, elastic part "
                                << elastic.back() << " in, " << open.unknowns << " unknowns");
  }
  const double first = std::abs(elastic[1] - elastic[0]);
  const double second = std::abs(elastic[2] - elastic[1]);
  BOOST_TEST_MESSAGE("observed order of the elastic part " << std::log2(first / second));
  const Source richardson{"Richardson", "Richardson's extrapolation (1927)."};
  check_row(richardson,
            {"convergence-elastic",
             "drop on levels 1, 2, 4: last change of the elastic part, of the first", ""},
            at_most(1.0, "changes shrink; a fillet is singular, so no full order is asked"),
            second / first);
  check_row(richardson, {"convergence-drop", "the same of the whole drop", ""},
            at_most(1.0, "changes shrink"), std::abs((drop[2] - drop[1]) / (drop[1] - drop[0])));
}
