// SPDX-License-Identifier: GPL-3.0-or-later
// Wear of pin and bore: Archard's law without the third, as Archard and Hirst use it (Proceedings
// of the Royal Society A 236, 1956, 397; constants from memory), and the drop of a rigid door by
// the geometry of its hinges.
#define BOOST_TEST_MODULE wear
#include <boost/test/unit_test.hpp>

#include "meshing/door/mesh_density.hpp"
#include "meshing/sweep/door_mesher.hpp"
#include "solver/analysis/wear_analysis.hpp"
#include "solver/strength/hinge_forces.hpp"
#include "tests/support/book.hpp"
#include "tests/support/test_doors.hpp"

#include <cmath>

using namespace hangtrue;
using namespace hangtrue::test;

namespace
{

const Source archard{
    "Wear", "Archard and Hirst, Proceedings of the Royal Society A 236 (1956) 397 (constants from "
            "memory), and the drop of a rigid door by the geometry of its hinges."};

} // namespace

BOOST_AUTO_TEST_CASE(archard_by_hand)
{
  // V = K F s / H with s = angle d / 2, spread over d L: the diameter falls out.
  const double d = 0.0254;
  const double length = 0.0381;
  const double volume = 7e-3 * 500.0 * (0.5 * d * 1.5) / (186.0 * 9.80665e6);
  check_row(archard, {"worn-depth", "500 N turned by 1.5 rad dry on 1 x 1-1/2 in: depth", "m"},
            near(volume / (d * length), 1e-12, "rounding"),
            analysis::worn_depth(7e-3, 500.0, 1.5, length));
  for (const bool greased : {true, false}) {
    const analysis::WearCoefficient k = analysis::wear_coefficient(greased);
    BOOST_TEST(k.low < k.usual);
    BOOST_TEST(k.usual < k.high);
  }
}

// One definition with its coefficient: the table's rate of mild steel on itself, 1.574e-7 cm3 per
// cm at 400 g and 186 kgf/mm2, over load / hardness = 0.4 / 18600 cm2 is K = 7.3e-3, printed as
// 7e-3: so V = K F s / H. With V = K F s / (3 H) it would be 2.2e-2. Here in reverse, by the depth
// that the program wears over a pin's area (the test fails with a third in worn_depth or in K).
BOOST_AUTO_TEST_CASE(the_coefficient_belongs_to_the_law)
{
  const double force = 0.4 * 9.80665; // N
  const double d = 0.006;             // m; falls out
  const double length = 0.006;
  const double angle = 1.0;
  const double depth =
      analysis::worn_depth(analysis::wear_coefficient(false).usual, force, angle, length);
  const double per_metre = depth * d * length / (0.5 * d * angle); // m3 per m
  check_row(archard,
            {"wear-rate", "mild steel on itself, 400 g, dry: volume worn per length", "cm3/cm"},
            near(1.574e-7, 0.07, "K is printed with one digit"), per_metre * 1e4);
}

// Fast pins: only the door's knuckle of each hinge wears. A door that leans by theta presses at the
// ends of its knuckles first; there it wears a wedge of the lean's own slope, w deep at the end and
// w / theta long. Archard's volume, K F s / H over the pin's width, is that of the wedge:
//   w^2 / (2 theta) = kappa F,  kappa = K (2 swing) / (2 H) a swing,
// with theta = 2 (c + w) / h over the height h between the worn ends, and the couple
// F (h - 2 w / (3 theta)) = W (r - R), since a wedge carries at a third of its length. With the
// mean over the whole knuckle, kappa F / L, the depth was 0.0088 mm and the growth a third.
BOOST_AUTO_TEST_CASE(a_rigid_door_wears_where_it_presses)
{
  door::Door door = barrel_door(door::PinFixity::fixed);
  stiffen(door, 1e6);
  door::MeshDensity fine = door::mesh_density(door, 1);
  const mesh::Mesh mesh = sweep::make_mesh(door, fine);
  analysis::AnalysisCache cache;
  const analysis::OpenDoorResult fresh =
      analysis::solve_open_door({.door = door, .mesh = mesh, .cache = &cache});
  const analysis::Usage use{20.0, 10.0, true};
  const analysis::WearCurve curve = analysis::integrate_wear(door, mesh, use, fresh, cache, {});
  const double height =
      door.hinges[1].position - door.hinges[0].position + door.hinges[0].knuckles[1].length;
  const double swings = 20.0 * 365.25 * 10.0;
  const double kappa = 1e-5 * door.swing * swings / analysis::mild_steel_hardness;
  const door::AxisPosition axis = door::pin_axis(door, door.hinges[0]);
  const double turning = fresh.weight * (std::hypot(fresh.centre_of_gravity.x - axis.x,
                                                    fresh.centre_of_gravity.y - axis.y) -
                                         door::outside_radius(door.hinges[0]));
  const double gap = 0.5 * door.hinges[0].clearance;
  double depth = 0.0;
  for (int i = 0; i < 30; ++i) {
    const double lean = 2.0 * (gap + depth) / height;
    depth = std::sqrt(2.0 * lean * kappa * turning / (height - 2.0 * depth / (3.0 * lean)));
  }
  BOOST_REQUIRE(depth / (2.0 * (gap + depth) / height) < door.hinges[0].knuckles[1].length);
  check_row(archard,
            {"worn-wedge", "rigid door, couple on two hinges, ten years: depth at the end", "mm"},
            near(1e3 * depth, 0.02, "two steps of implicit Euler; wedge over three node planes"),
            1e3 * curve.depth);
  // Of a rigid door all displacements are proportional to the gaps at the ends.
  const analysis::WearYear& last = curve.years.back();
  check_row(archard, {"worn-drop", "the same: growth of the drop", "mm"},
            near(1e3 * fresh.drop * depth / gap, 0.02, "as the depth"),
            1e3 * (last.usual - fresh.drop));
  BOOST_TEST(last.high > last.usual);
  BOOST_TEST(last.usual > last.low);
  BOOST_TEST(!curve.worn_through);
  BOOST_TEST(curve.years.front().usual == fresh.drop);
}

BOOST_AUTO_TEST_CASE(dry_pins_end_the_curve)
{
  const door::Door door = barrel_door();
  door::MeshDensity fine = door::mesh_density(door, 1);
  fine.panel_cell = door.panel.width / 3.0;
  fine.hinge_cell = fine.panel_cell;
  fine.around_pin = 12;
  const mesh::Mesh mesh = sweep::make_mesh(door, fine);
  analysis::AnalysisCache cache;
  const analysis::OpenDoorResult fresh =
      analysis::solve_open_door({.door = door, .mesh = mesh, .cache = &cache});
  const analysis::WearCurve curve =
      analysis::integrate_wear(door, mesh, {100.0, 20.0, false}, fresh, cache, {});
  BOOST_TEST(curve.worn_through);
  BOOST_TEST(curve.points.back().depth == 0.1 * door.hinges[0].pin_diameter,
             boost::test_tools::tolerance(1e-6));
  // A floating pin slides half in the door's and half in the frame's knuckles: both wear.
  BOOST_TEST(curve.years.back().high > fresh.drop);
}

// One hinge: its knuckle on the door is pressed at both ends, in opposite directions, and the sum
// is next to nothing. It wore by nothing.
BOOST_AUTO_TEST_CASE(a_couple_in_one_knuckle_wears_both_ends)
{
  door::Door door = barrel_door(door::PinFixity::fixed);
  door.hinges.pop_back();
  door.hinges.front().position = 0.5 * door.panel.height;
  door.hinges.front().end_float = 0.25 * inch; // so that thrust faces do not take the couple over
  const mesh::Mesh mesh = sweep::make_mesh(door, door::mesh_density(door, 1));
  analysis::AnalysisCache cache;
  const analysis::OpenDoorResult fresh =
      analysis::solve_open_door({.door = door, .mesh = mesh, .cache = &cache});
  const analysis::WearCurve curve =
      analysis::integrate_wear(door, mesh, {20.0, 10.0, true}, fresh, cache, {});
  const strength::KnuckleForce& knuckle = fresh.knuckles[1];
  const double length = door.hinges.front().knuckles[1].length;
  const double moment = norm(knuckle.pin_moment);
  BOOST_TEST(norm(knuckle.pin_force) * length < 0.01 * moment);
  // M = integral of q |z| <= greatest q l^2 / 4, whatever the distribution, and depth = kappa q.
  const double swings = 20.0 * 365.25 * 10.0;
  const double kappa = 1e-5 * door.swing * swings / analysis::mild_steel_hardness;
  BOOST_TEST(curve.depth > 0.98 * kappa * 4.0 * moment / (length * length));
  BOOST_TEST(curve.depth <
             1.02 * kappa * 6.0 * moment / (length * length)); // linear, from the middle
}
