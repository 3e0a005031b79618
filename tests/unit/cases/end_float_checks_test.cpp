// SPDX-License-Identifier: GPL-3.0-or-later
// Checks along the pins, and what to do about hinges that bind.
#define BOOST_TEST_MODULE end_float_checks
#include "tests/support/checked_results.hpp"

#include "cases/verdict/end_float_quantities.hpp"
#include "cases/verdict/end_float_remedy.hpp"
#include "cases/verdict/quantity_table.hpp"
#include "solver/contact/end_float.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>

using namespace hangtrue;
using namespace hangtrue::test;

namespace
{

constexpr double pi = std::numbers::pi;

contact::HingeEndFloat float_of(int hinge, double taken, double room, double needed)
{
  contact::HingeEndFloat at;
  at.hinge = hinge;
  at.has_rest = at.has_hold = true;
  at.taken = taken * inch;
  at.room = room * inch;
  at.required = needed * inch;
  return at;
}

// A 158 lbf door, 0.089 in wanted at the upper hinge where half of 1/32 in is; 2131 lbf hold it
// down at the lower hinge.
analysis::OpenDoorResult bound_quantity()
{
  analysis::OpenDoorResult d;
  d.weight = 158.0 * pound;
  d.axial.hinges = {float_of(0, 0.02, 1.0 / 32.0, 0.02), float_of(1, 0.089, 1.0 / 64.0, 0.178)};
  d.axial.hinges[0].held = 2131.0 * pound;
  d.axial.hinges[1].rests = 2289.0 * pound;
  d.axial.locked = 2131.0 * pound;
  d.axial.faces = {{0, 2, true, 2131.0 * pound, 0.7 * inch, 0.72 * inch, 0.01},
                   {1, 1, false, 2289.0 * pound, 0.0, 0.6 * inch, 0.0}};
  return d;
}

bool says(const verdict::CheckResult& finding, const std::string& words)
{
  return finding.reason.find(words) != std::string::npos;
}

} // namespace

// Ring of 1-1/2 in about a bore of 1.018 in: area 0.9532 in^2, core (0.75^2 + 0.509^2) / 3 in.
BOOST_AUTO_TEST_CASE(pressure_on_a_ring)
{
  const door::Hinge hinge = barrel_door().hinges.front();
  const double area = 0.25 * pi * (1.5 * 1.5 - 1.018 * 1.018) * inch * inch;
  const double core = (0.75 * 0.75 + 0.509 * 0.509) / 3.0 * inch;
  const double contact_force = 1000.0 * pound;
  BOOST_TEST(std::abs(verdict::face_pressure(hinge, contact_force, 0.0) / (contact_force / area) -
                      1.0) < 1e-12);
  BOOST_TEST(std::abs(verdict::face_pressure(hinge, contact_force, 0.5 * core) /
                          (1.5 * contact_force / area) -
                      1.0) < 1e-12);
  // At the core the far edge is just free; beyond it half the ring at a uniform pressure is the
  // same.
  BOOST_TEST(
      std::abs(verdict::face_pressure(hinge, contact_force, core) / (2.0 * contact_force / area) -
               1.0) < 1e-12);
  BOOST_TEST(verdict::face_pressure(hinge, contact_force, 0.7 * inch) ==
             verdict::face_pressure(hinge, contact_force, core));
}

// A plane tilted by 0.01 cuts a disc of 3/4 in radius to a depth c: the segment is found by its
// exact area R^2 (a - sin a cos a), cos a = 1 - c / R; the parabola is within 2 % at c / R < 0.15.
BOOST_AUTO_TEST_CASE(flattened_edge)
{
  const door::Hinge hinge = barrel_door().hinges.front();
  const double r = 0.75 * inch;
  const double c = 0.1 * inch;
  const double a = std::acos(1.0 - c / r);
  const double segment = r * r * (a - std::sin(a) * std::cos(a));
  const double pressure = 32.4e3 * psi;
  const double depth = verdict::edge_flattening(hinge, segment * pressure, 0.01, pressure);
  BOOST_TEST(std::abs(depth / (0.01 * c) - 1.0) < 0.03);
}

// Wire of 3/16 in: two planes of 0.02761 in^2 at 0.4 x 36 ksi: 795 lbf.
BOOST_AUTO_TEST_CASE(shear_of_a_cotter)
{
  const door::Hinge hinge = barrel_door().hinges.front();
  BOOST_TEST(std::abs(verdict::cotter_shear(hinge, 36.0e3 * psi) / pound - 795.2) < 0.1);
}

BOOST_AUTO_TEST_CASE(bound_hinges_fail_with_their_cause)
{
  const input::DoorCase c = checked_case();
  const auto all = checks_of(c, bound_quantity());
  const verdict::CheckResult& taken = named(all, qoi::Quantity::end_float);
  BOOST_TEST((taken.verdict == verdict::Verdict::fails));
  BOOST_TEST(std::abs(taken.found - 0.089 * inch) < 1e-12);
  BOOST_TEST(std::abs(taken.limit - inch / 64.0) < 1e-12);
  BOOST_TEST(says(taken, "hinge 2: it needs an end float of 0.178"));
  BOOST_TEST(says(taken, "bound: hinge 1 holds it down with 2131.0 lbf, hinge 2 lifts the door"));
  const verdict::CheckResult& bound = named(all, qoi::Quantity::bound_hinges);
  BOOST_TEST((bound.verdict == verdict::Verdict::fails));
  BOOST_TEST(std::abs(bound.found - 2131.0 * pound) < 1e-9);
  BOOST_TEST(std::abs(bound.limit - 15.8 * pound) < 1e-9);
  // (2131 x 0.72 + 2289 x 0.6) in lbf x 0.1 and 0.5 over 30 in and half the reveal.
  const double greased =
      contact::friction_torque(bound_quantity().axial, verdict::greased_friction);
  BOOST_TEST(std::abs(greased / (290.772 * pound * inch) - 1.0) < 1e-6);
  BOOST_TEST(says(bound, "0.1 greased to 0.5 dry, common practice, no source"));
  // One-sided at hinge 1: half of 0.9532 in^2 bears 2131 lbf.
  const verdict::CheckResult& face = named(all, qoi::Quantity::thrust_face);
  BOOST_TEST(std::abs(face.found / (2131.0 / (0.5 * 0.95321) * psi) - 1.0) < 1e-4);
  BOOST_TEST(says(face, "on one side of the ring"));
  const verdict::CheckResult& head = named(all, qoi::Quantity::pin_head);
  BOOST_TEST((head.verdict == verdict::Verdict::fails));
  BOOST_TEST(says(head, "ties the knuckles together"));
}

// The same text does not stay when the facts are reversed.
BOOST_AUTO_TEST_CASE(free_hinges_hold)
{
  const input::DoorCase c = checked_case();
  analysis::OpenDoorResult d = bound_quantity();
  d.axial.locked = 0.0;
  d.axial.hinges = {float_of(0, 0.002, 1.0 / 32.0, 0.002), float_of(1, 0.004, 1.0 / 64.0, 0.008)};
  d.axial.hinges[0].rests = d.weight;
  d.axial.hinges[1].below = 0.0116 * inch;
  d.axial.faces = {{0, 1, false, d.weight, 0.0, 0.6 * inch, 0.0}};
  const auto all = checks_of(c, d);
  for (const qoi::Quantity q : {qoi::Quantity::end_float, qoi::Quantity::bound_hinges,
                                qoi::Quantity::thrust_face, qoi::Quantity::pin_head})
    BOOST_TEST((named(all, q).verdict == verdict::Verdict::holds), verdict::row_of(q).label);
  BOOST_TEST(!says(named(all, qoi::Quantity::end_float), "bound"));
  BOOST_TEST(says(named(all, qoi::Quantity::end_float), "0.0116 in under the door"));
  BOOST_TEST(!says(named(all, qoi::Quantity::bound_hinges), "friction"));
  // The weight that has moved binds nothing, and is reported.
  d.axial.hinges[1] = float_of(1, 0.025, 1.0 / 64.0, 0.05);
  std::swap(d.axial.hinges[0].rests, d.axial.hinges[1].rests);
  const auto moved = checks_of(c, d);
  BOOST_TEST((named(moved, qoi::Quantity::end_float).verdict == verdict::Verdict::fails));
  BOOST_TEST(
      says(named(moved, qoi::Quantity::end_float), "so hinge 2 lifts the door with 158.0 lbf"));
  BOOST_TEST((named(moved, qoi::Quantity::bound_hinges).verdict == verdict::Verdict::holds));
}

// No play at all is more than used up, however little is taken.
BOOST_AUTO_TEST_CASE(no_end_float_at_all)
{
  const input::DoorCase c = checked_case();
  analysis::OpenDoorResult d = bound_quantity();
  d.axial.hinges = {float_of(0, 0.0001, 0.0, 0.0001)};
  const auto all = checks_of(c, d);
  BOOST_TEST((named(all, qoi::Quantity::end_float).verdict == verdict::Verdict::fails));
  BOOST_TEST(named(all, qoi::Quantity::end_float).utilisation > 1.0);
}

// A closed state is checked likewise.
BOOST_AUTO_TEST_CASE(closed_states_are_checked)
{
  input::DoorCase c = checked_case();
  c.door.gasket.sealing = 1.0;
  c.door.gasket.crushing = 1.0;
  analysis::ClosedDoorResult d;
  d.weight = 158.0 * pound;
  d.axial = bound_quantity().axial;
  const auto all = checks_of(c, d);
  BOOST_TEST((named(all, qoi::Quantity::bound_hinges).verdict == verdict::Verdict::fails));
  BOOST_TEST((named(all, qoi::Quantity::end_float).verdict == verdict::Verdict::fails));
}

// The remedy: 0.178 in at the sliding hinge, a tenth more, in sixty-fourths: 13/64.
BOOST_AUTO_TEST_CASE(advice_frees_a_hinge)
{
  const input::DoorCase c = checked_case();
  analysis::OpenDoorResult bound = bound_quantity();
  analysis::OpenDoorResult free = bound;
  free.axial.locked = 0.0;
  free.axial.faces.clear();
  free.axial.hinges[0].held = free.axial.hinges[1].rests = 0.0;
  free.axial.hinges[0].rests = free.weight;
  bound.freed = std::make_shared<analysis::OpenDoorResult>(free);
  const auto findings = checks_of(c, bound);
  const auto freed = verdict::with_free_hinges(c, {{&bound}, {}}, findings);
  BOOST_REQUIRE(freed.has_value());
  BOOST_TEST(std::abs(freed->door.hinges[1].end_float - 13.0 / 64.0 * inch) < 1e-12);
  BOOST_TEST(std::abs(freed->door.hinges[0].end_float - 1.0 / 32.0 * inch) < 1e-12);
  BOOST_TEST(freed->door.hinges[0].carries_weight);
  const std::string words = verdict::end_float_text(c, *freed);
  BOOST_TEST(
      words.find("hinge 1 carries; hinge 2 slides, end float 13/64 in in place of 1/32 in") !=
          std::string::npos,
      words);
  const std::string said = verdict::end_float_remedy_text(c, *freed, {&bound}, {}, findings);
  BOOST_TEST(said.find("3 of 3 failed checks fail no more") != std::string::npos, said);
  BOOST_TEST(said.find("still failing") == std::string::npos, said);
  // Where nothing fails nothing is advised.
  analysis::OpenDoorResult holds = free;
  holds.axial.hinges = {float_of(0, 0.002, 1.0 / 32.0, 0.002),
                        float_of(1, 0.004, 1.0 / 64.0, 0.008)};
  BOOST_TEST(!verdict::with_free_hinges(c, {{&holds}, {}}, checks_of(c, holds)).has_value());
}
