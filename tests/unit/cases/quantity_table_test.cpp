// SPDX-License-Identifier: GPL-3.0-or-later
// The table of quantities of interest against what states make of it.
#define BOOST_TEST_MODULE quantity_table
#include <boost/test/unit_test.hpp>

#include "cases/verdict/closed_quantities.hpp"
#include "cases/verdict/quantities_of_interest.hpp"
#include "cases/verdict/quantity_table.hpp"
#include "solver/analysis/closed_result.hpp"
#include "solver/analysis/open_result.hpp"
#include "solver/strength/hinge_forces.hpp"
#include "solver/strength/pin_section_forces.hpp"
#include "tests/support/test_doors.hpp"

#include <set>
#include <stdexcept>
#include <string>
#include <utility>
#include <vector>

using namespace hangtrue;
using namespace hangtrue::test;

namespace
{

constexpr int quantities = static_cast<int>(qoi::Quantity::count);

input::DoorCase make_case()
{
  input::DoorCase c;
  c.door = barrel_door();
  c.door.inner_hold.slot = 0.01;
  c.use.years = 7.5;
  return c;
}

contact::HingeEndFloat a_float()
{
  contact::HingeEndFloat at;
  at.has_rest = at.has_hold = true;
  at.room = 1e-3;
  return at;
}

// Data with contact pressure, bending and a weld.
template <class State>
void load_hinges(State& d)
{
  strength::KnuckleForce k;
  k.hinge = 1;
  k.knuckle = 1;
  k.owner = door::KnuckleOwner::door;
  k.pin_force = {1000.0, 0.0, 0.0};
  d.knuckles = {k};
  strength::PinForces pin;
  pin.hinge = 1;
  pin.greatest_bending = pin.greatest_shear = 10.0;
  d.pins = {pin};
  strength::LeafForces leaf;
  leaf.root_bending = 10.0;
  d.leaves = {leaf};
}

// A hot open state that has every number that an open state can have.
analysis::OpenDoorResult hot_state()
{
  analysis::OpenDoorResult d;
  d.state.thermal = {heat::ThermalCase::steady, 3600.0};
  d.warm = true;
  d.weight = 500.0;
  d.axial.hinges = {a_float()};
  load_hinges(d);
  for (const mesh::Part part : {mesh::Part::inner_skin, mesh::Part::outer_skin, mesh::Part::rim})
    d.plates.push_back({part, {}, 1e6, 2e8, 20.0, 0.005});
  for (const mesh::Part part : {mesh::Part::inner_skin, mesh::Part::outer_skin}) {
    strength::SkinBuckling skin;
    skin.skin = part;
    skin.supported.utilisation = skin.clamped.utilisation = 0.1;
    d.buckling.push_back(skin);
  }
  d.thermal_clearances = {{0, 1e-4}};
  d.skin_slip.slide = d.skin_slip.closing = 1e-3;
  return d;
}

analysis::ClosedDoorResult closed_state()
{
  analysis::ClosedDoorResult d;
  d.state.thermal = {heat::ThermalCase::steady, 3600.0};
  d.warm = true;
  d.weight = 500.0;
  d.axial.hinges = {a_float()};
  load_hinges(d);
  d.latches.resize(2);
  d.latches[1].latch = 1;
  return d;
}

std::vector<verdict::QuantityOfInterest> all_numbers()
{
  const input::DoorCase c = make_case();
  std::vector<verdict::QuantityOfInterest> all = verdict::quantities_of(c, hot_state());
  for (auto& q : verdict::quantities_of(c, closed_state()))
    all.push_back(std::move(q));
  analysis::WearCurve wear;
  wear.years = {{0.0, 0.0, 0.0, 0.0}, {7.5, 0.0, 0.0, 0.0}};
  all.push_back(verdict::drop_after_years(c, hot_state(), wear, 0.0));
  return all;
}

} // namespace

BOOST_AUTO_TEST_CASE(every_quantity_has_one_row_and_a_label_of_its_own)
{
  std::set<std::string> labels;
  for (int q = 0; q < quantities; ++q) {
    const verdict::QuantityRow& row = verdict::row_of(static_cast<qoi::Quantity>(q));
    BOOST_TEST(static_cast<int>(row.quantity) == q);
    BOOST_TEST(labels.insert(row.label).second, row.label);
    const bool counted = std::string(row.label).find("{}") != std::string::npos;
    BOOST_TEST(counted == (row.index != verdict::IndexOf::nothing), row.label);
    if (row.lower_bound)
      BOOST_TEST((row.limit != verdict::LimitSource::none), row.label);
  }
  BOOST_CHECK_THROW(verdict::row_of(qoi::Quantity::count), std::logic_error);
}

// Every quantity occurs in some state, and has a limit exactly where the table names its source.
BOOST_AUTO_TEST_CASE(limits_are_where_the_table_says)
{
  std::set<qoi::Quantity> result;
  for (const auto& q : all_numbers()) {
    const verdict::QuantityRow& row = verdict::row_of(q.id.quantity);
    result.insert(q.id.quantity);
    BOOST_TEST(q.limit.has_value() == (row.limit != verdict::LimitSource::none), row.label);
    BOOST_TEST(q.reason.empty() != q.limit.has_value(), row.label);
  }
  BOOST_TEST(static_cast<int>(result.size()) == quantities);
}

// No id belongs to two numbers: a look-up by id returns what was meant.
BOOST_AUTO_TEST_CASE(every_number_has_an_id_of_its_own)
{
  const auto all = all_numbers();
  for (const auto& q : all)
    BOOST_TEST(verdict::find_quantity(all, q.id) == &q, verdict::row_of(q.id.quantity).label);
}

BOOST_AUTO_TEST_CASE(labels_are_filled_in)
{
  const input::DoorCase c = make_case();
  BOOST_TEST(verdict::quantity_label(c, {{}, qoi::Quantity::latch_force, 1}) == "force of latch 2");
  BOOST_TEST(verdict::quantity_label(
                 c, {{}, qoi::Quantity::plate_stress, static_cast<int>(mesh::Part::rim)}) ==
             "rim stays elastic");
  BOOST_TEST(verdict::quantity_label(c, {{}, qoi::Quantity::drop_after_years}) ==
             "drop after 7.5 years");
  BOOST_TEST(std::string(verdict::goal_label(qoi::Quantity::drop)) == "drop of the latch corner");
}

// On a closed door all depends on the bent panel, forces at hinges on the cells along a knuckle
// too.
BOOST_AUTO_TEST_CASE(a_closed_door_converges_by_its_panel)
{
  const system::StateId closed{system::DoorPosition::closed};
  BOOST_TEST((verdict::convergence_of({{}, qoi::Quantity::pin_bending}) ==
              verdict::ConvergenceClass::hinge_forces));
  BOOST_TEST((verdict::convergence_of({closed, qoi::Quantity::pin_bending}) ==
              verdict::ConvergenceClass::closed_hinge_forces));
  BOOST_TEST((verdict::convergence_of({{}, qoi::Quantity::end_float}) ==
              verdict::ConvergenceClass::on_hinges));
  BOOST_TEST((verdict::convergence_of({closed, qoi::Quantity::end_float}) ==
              verdict::ConvergenceClass::closed));
  BOOST_TEST((verdict::convergence_of({{}, qoi::Quantity::plate_stress}) ==
              verdict::ConvergenceClass::plates));
}

BOOST_AUTO_TEST_CASE(states_have_labels_of_their_own)
{
  std::set<std::string> labels;
  for (const system::DoorPosition position :
       {system::DoorPosition::open, system::DoorPosition::closed})
    for (int which = 0; which <= static_cast<int>(heat::ThermalCase::cooled); ++which)
      BOOST_TEST(labels
                     .insert(system::state_label(
                         {position, {static_cast<heat::ThermalCase>(which), 3600.0}}))
                     .second);
  BOOST_TEST(labels.count("open cold") == 1U);
  BOOST_TEST(labels.count("closed, most bowed at 60 min") == 1U);
  BOOST_TEST(labels.count("open at 60 min") == 1U);
}
