// SPDX-License-Identifier: GPL-3.0-or-later
// A door with limits and an invented result of it, round numbers that a hand can follow.
#pragma once

#include <boost/test/unit_test.hpp>

#include "cases/verdict/check_result.hpp"
#include "cases/verdict/checks.hpp"
#include "cases/verdict/closed_quantities.hpp"
#include "cases/verdict/quantities_of_interest.hpp"
#include "solver/analysis/closed_result.hpp"
#include "solver/strength/hinge_forces.hpp"
#include "solver/strength/pin_section_forces.hpp"
#include "tests/support/test_doors.hpp"

#include <algorithm>
#include <vector>

namespace hangtrue::test
{

inline input::DoorCase checked_case()
{
  input::DoorCase c;
  c.door = barrel_door();
  c.limits.drop = {inch / 16.0, "common practice, no source"};
  c.limits.lean = {inch / 8.0, "given in the door file"};
  c.limits.elastic_sag = {inch / 64.0, "common practice, no source"};
  c.limits.weld_stress = {21.0e3 * psi, "test"};
  c.limits.share_of_yield = {0.66, "test"};
  return c;
}

inline analysis::OpenDoorResult checked_result()
{
  analysis::OpenDoorResult d;
  d.drop = inch / 32.0;
  d.elastic_drop = inch / 128.0;
  d.lean = -inch / 32.0;
  strength::KnuckleForce k;
  k.hinge = 1;
  k.knuckle = 1;
  k.owner = door::KnuckleOwner::door;
  k.pin_force = {1000.0 * pound, 0.0, 0.0};
  k.bearing = 1000.0 * pound / (1.0 * inch * 1.5 * inch);
  d.knuckles = {k};
  strength::PinForces pin;
  pin.hinge = 1;
  pin.greatest_bending = 2333.0 * pound * inch;
  pin.greatest_shear = 500.0 * pound;
  d.pins = {pin};
  strength::LeafForces leaf;
  leaf.hinge = 0;
  leaf.root_bending = -100.0 * pound * inch;
  d.leaves = {leaf};
  return d;
}

inline std::vector<verdict::CheckResult> checks_of(const input::DoorCase& c,
                                                   const analysis::OpenDoorResult& d)
{
  return verdict::evaluate_checks(c, verdict::quantities_of(c, d));
}

inline std::vector<verdict::CheckResult> checks_of(const input::DoorCase& c,
                                                   const analysis::ClosedDoorResult& d)
{
  return verdict::evaluate_checks(c, verdict::quantities_of(c, d));
}

inline const verdict::CheckResult& named(const std::vector<verdict::CheckResult>& all,
                                         qoi::Quantity quantity)
{
  const auto at =
      std::find_if(all.begin(), all.end(), [quantity](const verdict::CheckResult& check) {
        return check.id.quantity == quantity;
      });
  BOOST_REQUIRE((at != all.end()));
  return *at;
}

} // namespace hangtrue::test
