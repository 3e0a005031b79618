// SPDX-License-Identifier: GPL-3.0-or-later
// Places of latches that changes ask for.
#define BOOST_TEST_MODULE remedy_positions
#include <boost/test/unit_test.hpp>

#include "cases/verdict/remedies.hpp"
#include "solver/contact/closed_contact_pairs.hpp"
#include "solver/contact/latch_model.hpp"
#include "tests/support/test_doors.hpp"

#include <algorithm>
#include <vector>

using namespace hangtrue;

// A latch of a remedy costs no further solution of the panel: its position is a candidate from the
// start.
BOOST_AUTO_TEST_CASE(places_of_all_changes_are_foreseen)
{
  for (const std::size_t latches : {1U, 2U}) {
    input::DoorCase door_case;
    door_case.door = test::barrel_door();
    door::Door& door = door_case.door;
    door.gasket.curve = {{1e-3, 500.0}, {4e-3, 3000.0}};
    for (std::size_t l = 0; l < latches; ++l) {
      door::Latch latch;
      latch.edge = door::FreeEdge::latch;
      latch.position = (0.3 + 0.3 * static_cast<double>(l)) * door.panel.height;
      door.latches.push_back(latch);
    }
    const auto warm_start = contact::candidate_latches(door);
    const auto requested = verdict::latch_places(door, verdict::possible_remedies(door_case));
    BOOST_TEST(requested.size() > latches);
    for (const auto& latch : requested)
      BOOST_TEST(std::any_of(warm_start.begin(), warm_start.end(), [&](const door::Latch& place) {
        return norm(contact::latch_place(door, place) - contact::latch_place(door, latch)) < 1e-9;
      }));
  }
}

// No remedy puts a latch where there is one, and latches at one position all keep a position.
BOOST_AUTO_TEST_CASE(no_latch_is_added_where_one_is)
{
  input::DoorCase door_case;
  door_case.door = test::barrel_door();
  door::Door& door = door_case.door;
  door.gasket.curve = {{1e-3, 500.0}, {4e-3, 3000.0}};
  door::Latch latch;
  latch.edge = door::FreeEdge::latch;
  latch.position = 0.5 * door.panel.height;
  door.latches = {latch, latch, latch};
  const auto at_middle = [&](const std::vector<door::Latch>& latches) {
    return std::count_if(latches.begin(), latches.end(), [&](const door::Latch& other) {
      return norm(contact::latch_place(door, other) - contact::latch_place(door, latch)) <
             contact::same_latch_place;
    });
  };
  const auto changes = verdict::possible_remedies(door_case);
  BOOST_TEST(!changes.empty());
  for (const auto& change : changes)
    BOOST_TEST(at_middle(change.closing.latches) == 3, change.text);
  BOOST_TEST(at_middle(verdict::latch_places(door, changes)) == 3);
}
