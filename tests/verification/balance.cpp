// SPDX-License-Identifier: GPL-3.0-or-later
// Statics: whatever the door, the contact forces carry its weight and its moments.
//
// Source: equilibrium (Newton). Limit 1e-8 of the weight (and of the weight times the width):
// rounding in the flexibility, nothing else, may be left over.
#define BOOST_TEST_MODULE balance
#include <boost/test/unit_test.hpp>

#include "meshing/door/mesh_density.hpp"
#include "meshing/quality/mesh_quality.hpp"
#include "meshing/sweep/door_mesher.hpp"
#include "solver/analysis/open_analysis.hpp"
#include "tests/support/book.hpp"
#include "tests/support/random_doors.hpp"

#include <algorithm>
#include <cmath>

using namespace hangtrue;
using namespace hangtrue::test;

namespace
{

const Source statics{"Equilibrium", "Newton's laws: what carries a body balances what loads it."};
constexpr const char* rounding = "rounding in the flexibility, nothing else";

// Coarse enough for fifty doors: equilibrium holds on any mesh.
door::MeshDensity coarse(const door::Door& door)
{
  door::MeshDensity fine = door::mesh_density(door, 1);
  fine.panel_cell = std::max(door.panel.width, door.panel.height) / 3.0;
  fine.hinge_cell = fine.panel_cell;
  fine.around_pin = 12;
  return fine;
}

} // namespace

BOOST_AUTO_TEST_CASE(fifty_random_doors)
{
  RandomDoors doors(20261125);
  double worst_force = 0.0;
  double worst_moment = 0.0;
  double worst_reaction = 0.0;
  for (int i = 0; i < 50; ++i) {
    const door::Door door = doors.next();
    const mesh::Mesh mesh = sweep::make_mesh(door, coarse(door));
    quality::inspect(mesh, door);
    const analysis::OpenDoorResult open = analysis::solve_open_door({.door = door, .mesh = mesh});
    worst_force = std::max(worst_force, open.balance.force_error);
    worst_moment = std::max(worst_moment, open.balance.moment_error);
    worst_reaction = std::max(worst_reaction, open.balance.reaction_error);
    BOOST_TEST(open.balance.force_error < 1e-8, "door " << i);
    BOOST_TEST(open.balance.moment_error < 1e-8, "door " << i);
    BOOST_TEST(std::isfinite(open.drop), "door " << i);
    // No contact force is tensile, and no penetration exceeds a millionth of the largest gap.
    BOOST_TEST(open.balance.min_contact_force > -1e-6 * open.weight, "door " << i);
    double gap = 0.0;
    for (const auto& h : door.hinges)
      gap = std::max({gap, h.clearance, h.end_float});
    BOOST_TEST(open.balance.min_gap > -1e-6 * gap, "door " << i);
  }
  check_row(statics, {"balance-force", "50 random doors: force left over, of the weight", ""},
            at_most(1e-8, rounding), worst_force);
  check_row(statics,
            {"balance-moment", "50 random doors: moment left over, of weight times width", ""},
            at_most(1e-8, rounding), worst_moment);
  // The reactions come from stresses in the jamb, an independent check of the whole assembly.
  check_row(statics,
            {"balance-reaction",
             "50 random doors: reactions from stresses in the jamb, of the weight", ""},
            at_most(1e-6, "rounding in the factors"), worst_reaction);
}
