// SPDX-License-Identifier: GPL-3.0-or-later
// What every closed door is held to, and the source of its statics.
#pragma once

#include <boost/test/unit_test.hpp>

#include "solver/analysis/closed_result.hpp"
#include "tests/support/book.hpp"

namespace hangtrue::test
{

inline const Source statics{
    "Closed door by statics",
    "Statics of a door on its gasket, plane geometry and the inclined plane (own "
    "working); friction of 0.15 is common practice, no source."};

/// Forces and moments in equilibrium, no contact that pulls or penetrates, no gasket that pulls.
inline void check_equilibrium(const analysis::ClosedDoorResult& d)
{
  BOOST_TEST(d.balance.force_error < 1e-8);
  BOOST_TEST(d.balance.moment_error < 1e-8);
  BOOST_TEST(d.balance.min_gap > -1e-8);           // m, a thousandth of the play in the hinges
  BOOST_TEST(d.balance.min_contact_force > -1e-9); // N, rounding
  for (const auto& g : d.gasket) {
    BOOST_TEST(g.load >= 0.0);
    if (g.squeeze < -1e-9) // m
      BOOST_TEST(g.load == 0.0);
  }
}

} // namespace hangtrue::test
