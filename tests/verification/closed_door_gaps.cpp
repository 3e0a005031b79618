// SPDX-License-Identifier: GPL-3.0-or-later
// Gaps of the closed door: a warped face, stops, reveal, a lid that slides.
#define BOOST_TEST_MODULE closed_door_gaps
#include <boost/test/unit_test.hpp>

#include "solver/analysis/closed_analysis.hpp"
#include "solver/analysis/closed_result.hpp"
#include "solver/contact/gasket_model.hpp"
#include "solver/heat/thermal_state.hpp"
#include "tests/support/book.hpp"
#include "tests/support/closed_door_checks.hpp"
#include "tests/support/closed_doors.hpp"

#include <algorithm>
#include <cmath>
#include <numeric>
#include <vector>

using namespace hangtrue;
using namespace hangtrue::test;

// A face whose corners are set back from its middle by `warp`, as a parabola in both directions (as
// the file defines it): a gasket with hardly any load loses just that of its squeeze everywhere,
// corners most. Band 2 % of the warp: what the door still follows.
BOOST_AUTO_TEST_CASE(a_warped_chamber_face)
{
  door::Door door = smoke_door({4.4 * inch, 25.6 * inch});
  for (auto& point : door.gasket.curve)
    point.second *= 0.001;
  const mesh::Mesh closed_mesh = analysis::make_closed_mesh(door, 1);
  analysis::AnalysisCache cache;
  analysis::ClosedDoorAnalysis flat(door, closed_mesh, nullptr, door.latches, cache);
  const analysis::ClosedDoorResult before = flat.solve(analysis::closing_setup(door), {});
  door.opening.warp = 0.05 * inch;
  analysis::ClosedDoorAnalysis warped(door, closed_mesh, nullptr, door.latches, cache);
  const analysis::ClosedDoorResult after = warped.solve(analysis::closing_setup(door), {});
  double worst = 0.0;
  for (std::size_t i = 0; i < before.gasket.size(); ++i) {
    const Vec3& p = before.gasket[i].place;
    const double across = p.x / (15.0 * inch) - 1.0;
    const double up = p.z / (15.0 * inch) - 1.0;
    const double back = 0.05 * inch * 0.5 * (across * across + up * up);
    worst = std::max(worst, std::abs(before.gasket[i].squeeze - after.gasket[i].squeeze - back));
  }
  check_row(statics,
            {"warped-face", "warp of 0.05 in: worst miss of the squeeze that it takes", "in"},
            at_most(0.001, "2 % of the warp: what the door still follows"), worst / inch);
}

// A gasket that does not reach the frame: nothing is squeezed, nothing is latched, equilibrium
// still holds.
BOOST_AUTO_TEST_CASE(a_gap_wider_than_the_gasket)
{
  door::Door door = smoke_door({4.4 * inch, 25.6 * inch});
  door.gasket.set_gap = door.gasket.height + 0.1 * inch;
  const mesh::Mesh closed_mesh = analysis::make_closed_mesh(door, 1);
  analysis::AnalysisCache cache;
  analysis::ClosedDoorAnalysis position(door, closed_mesh, nullptr, door.latches, cache);
  const analysis::ClosedDoorResult d = position.solve(analysis::closing_setup(door), {});
  BOOST_TEST(d.gasket_summary.open_length > 0.0);
  BOOST_TEST(d.gasket_summary.largest_gap > 0.0);
  BOOST_TEST(d.gasket_summary.total < 1.0); // N
}

// A rigid door rotated by a small angle about its lower hinge corner (plane geometry): its upper
// latch corner approaches the opening by angle x height, its lower one sinks by angle x width. The
// least gap is reported with its position on the door.
BOOST_AUTO_TEST_CASE(the_tightest_point_in_the_opening)
{
  door::Door door = smoke_door({15.0 * inch});
  door.opening = {0.10 * inch, 0.25 * inch, 0.25 * inch, 0.0};
  const mesh::Mesh closed_mesh = analysis::make_closed_mesh(door, 1);
  constexpr double angle = 1e-3;
  std::vector<Vec3> displacements;
  for (const auto& n : closed_mesh.door.nodes)
    displacements.push_back({angle * n.z, 0.0, -angle * n.x});
  std::vector<int> all(closed_mesh.door.nodes.size());
  std::iota(all.begin(), all.end(), 0);
  const analysis::RevealResult left =
      analysis::reveal_result(door, closed_mesh.door, all, displacements);
  const double tight = 0.10 * inch - angle * 30.0 * inch;
  check_row(statics,
            {"reveal-turned", "rigid door turned by 1/1000: gap at its upper latch corner", "in"},
            near(tight / inch, 1e-9, "plane geometry: rounding"), left.latch / inch);
  BOOST_TEST(std::abs(left.hinge - door.reveal) < 1e-12);
  BOOST_TEST(std::abs(left.lower - (0.25 - angle * 30.0) * inch) < 1e-12);
  BOOST_TEST(std::abs(left.upper - 0.25 * inch) < 1e-12);
  BOOST_TEST(std::abs(left.min_at.x - 30.0 * inch) < 1e-9);
  BOOST_TEST(std::abs(left.min_at.z - 30.0 * inch) < 1e-9);
}

// Nothing holds a lid along its pins between the thrust faces, so that it may touch either side of
// its opening: from its nominal position it can slide half its end float, where the hinge that does
// not carry meets its neighbour, to one side only.
BOOST_AUTO_TEST_CASE(a_lid_may_slide_to_either_side)
{
  door::Door door = smoke_door({15.0 * inch});
  door.hanging = door::HingeEdge::top;
  door.opening = {0.25 * inch, 0.25 * inch, 0.25 * inch, 0.25 * inch};
  for (auto& hinge : door.hinges)
    hinge.end_float = 0.125 * inch;
  const mesh::Mesh closed_mesh = analysis::make_closed_mesh(door, 1);
  analysis::AnalysisCache cache;
  analysis::ClosedDoorAnalysis position(door, closed_mesh, nullptr, door.latches, cache);
  const analysis::ClosedDoorResult closed = position.solve(analysis::closing_setup(door), {});
  constexpr double bends = 1e-4; // m: a hundredth of the squeeze of its gasket
  BOOST_TEST(std::abs(closed.reveal.lower - 0.25 * inch) < bends);
  check_row(
      statics,
      {"reveal-lid", "lid with 1/8 in of end float: gap left at the side it may slide to", "in"},
      near(0.25 - 0.0625, 0.02, "edges bend by less than 0.1 mm"), closed.reveal.upper / inch);
}

// A metal stop carries what a crushed gasket cannot: draw the latches far in and the steel meets
// the frame.
BOOST_AUTO_TEST_CASE(steel_meets_the_frame)
{
  door::Door door = smoke_door({4.4 * inch, 25.6 * inch});
  door.gasket.set_gap = 0.01 * inch; // nearly on the frame
  door.gasket.height = 0.02 * inch;
  door.gasket.curve = {{0.0, 0.0}, {0.02 * inch, 1.0 * pound_per_inch}};
  for (auto& latch : door.latches)
    latch.draw = 0.05 * inch;
  const mesh::Mesh closed_mesh = analysis::make_closed_mesh(door, 1);
  analysis::AnalysisCache cache;
  analysis::ClosedDoorAnalysis position(door, closed_mesh, nullptr, door.latches, cache);
  const analysis::ClosedDoorResult d = position.solve(analysis::closing_setup(door), {});
  check_equilibrium(d);
  BOOST_TEST(d.stop_force > 0.0);
  BOOST_TEST(!d.stops.empty());
}
