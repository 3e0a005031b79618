// SPDX-License-Identifier: GPL-3.0-or-later
// The line and the law of a gasket, and the hand on a latch.
#define BOOST_TEST_MODULE gasket_and_latch_laws
#include <boost/test/unit_test.hpp>

#include "solver/analysis/closed_analysis.hpp"
#include "solver/analysis/closed_result.hpp"
#include "solver/contact/gasket_model.hpp"
#include "solver/contact/latch_model.hpp"
#include "solver/heat/thermal_state.hpp"
#include "tests/support/book.hpp"
#include "tests/support/closed_door_checks.hpp"
#include "tests/support/closed_doors.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>
#include <vector>

using namespace hangtrue;
using namespace hangtrue::test;

// The line: two straight and two quarter circles per pair of sides (plane geometry).
BOOST_AUTO_TEST_CASE(line_of_the_gasket)
{
  const door::Door door = smoke_door({15.0 * inch});
  double length = 0.0;
  for (const auto& segment : contact::gasket_line(door, 64)) {
    length += segment.length;
    BOOST_TEST(segment.place.x > 1.0 * inch - 1e-12);
    BOOST_TEST(segment.place.x < 29.0 * inch + 1e-12);
  }
  const double drawn = (4.0 * 26.0 + 2.0 * std::numbers::pi) * inch;
  check_row(statics, {"gasket-line", "line of the gasket with round corners: length", "in"},
            near(drawn / inch, 1e-12, "equal lengths of an exact line: rounding"), length / inch);
  // Corners keep the radius.
  for (const auto& segment : contact::gasket_line(door, 200)) {
    const double x = std::min(segment.place.x, 30.0 * inch - segment.place.x);
    const double z = std::min(segment.place.z, 30.0 * inch - segment.place.z);
    if (x < 2.0 * inch && z < 2.0 * inch)
      BOOST_TEST(std::abs(std::hypot(x - 2.0 * inch, z - 2.0 * inch) - inch) < 1e-9);
  }
}

BOOST_AUTO_TEST_CASE(law_of_the_gasket)
{
  const door::Gasket g = bulb();
  BOOST_TEST(contact::line_load(g, -1e-3).load == 0.0);
  check_row(statics, {"gasket-law", "own curve between its points: load at 0.225 in", "lbf/in"},
            near(12.5, 1e-9, "straight between measured points: rounding"),
            contact::line_load(g, 0.225 * inch).load / pound_per_inch);
  BOOST_TEST(std::abs(contact::sealing_squeeze(g) - 0.15 * inch) < 1e-12);
  // Beyond the last point it is extrapolated with the last slope.
  BOOST_TEST(contact::line_load(g, 0.6 * inch).load > 100.0 * pound_per_inch);
}

// Inclined plane (statics): 1000 N on a wedge of 7 deg, friction 0.15 (8.53 deg): 1000 tan(15.53
// deg) = 277.9 N on the bolt, a sixth of it at a lever of 6 to 1. Friction 0.15 is 8.5 deg, so 5 to
// 8 deg is self-locking (common practice, no source).
BOOST_AUTO_TEST_CASE(hand_on_a_wedge)
{
  door::Latch l = wedge(0.0);
  check_row(statics, {"wedge-hand", "1000 N on a wedge of 7 deg, 6 in lever on 1 in: hand", "N"},
            near(277.9 / 6.0, 4e-4, "digits of 277.9"), contact::lever_hand_force(l, 1000.0));
  BOOST_TEST(contact::is_self_locking(l));
  constexpr double degree = std::numbers::pi / 180.0;
  double steepest = 0.0; // that is still self-locking, deg
  for (int tenth = 1; tenth < 200; ++tenth) {
    l.lead = 0.1 * tenth * degree;
    steepest = contact::is_self_locking(l) ? 0.1 * tenth : steepest;
  }
  check_row(
      statics, {"wedge-holds", "steepest wedge that holds itself at a friction of 0.15", "deg"},
      between(8.4, 8.53, "its angle of friction, looked for in tenths of a degree"), steepest);
  l.lead = 9.0 * std::numbers::pi / 180.0;
  BOOST_TEST(!contact::is_self_locking(l));
  l.kind = door::LatchKind::over_centre;
  BOOST_TEST(std::abs(contact::lever_hand_force(l, 600.0) - 100.0) < 1e-9);
  BOOST_TEST(contact::is_self_locking(l));
}
