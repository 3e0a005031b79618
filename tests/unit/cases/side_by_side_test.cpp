// A task queue of two threads: every task once, errors stored, no thread waits forever.
#define BOOST_TEST_MODULE side_by_side
#include <boost/test/unit_test.hpp>

#include "cases/runtime/task_queue.hpp"
#include "cases/verdict/remedies.hpp"
#include "solver/contact/closed_contact_pairs.hpp"
#include "solver/contact/latch_model.hpp"
#include "tests/support/test_doors.hpp"

#include <algorithm>
#include <stdexcept>
#include <vector>

using namespace hangtrue;

BOOST_AUTO_TEST_CASE(every_task_is_done_once)
{
  for (const bool alone : {false, true}) {
    SharedWork work;
    constexpr int count = 200;
    std::vector<std::future<int>> results;
    for (int i = 0; i < count; ++i)
      results.push_back(put_task<int>(work, [i] { return i * i; }));
    auto side = aside(alone, [&work] {
      do_what_is_there(work);
      complete(work);
    });
    do_what_is_there(work);
    side.get();
    do_all(work); // nothing is left, and it does not wait
    for (int i = 0; i < count; ++i)
      BOOST_TEST(results[static_cast<std::size_t>(i)].get() == i * i);
  }
}

BOOST_AUTO_TEST_CASE(tasks_that_come_later_are_waited_for)
{
  SharedWork work;
  std::vector<std::future<int>> late;
  auto side = aside(true, [&] {
    for (int i = 0; i < 50; ++i)
      late.push_back(put_task<int>(work, [i] { return i; }));
    complete(work);
    do_all(work);
  });
  do_all(work);
  side.get();
  int sum = 0;
  for (auto& one : late)
    sum += one.get();
  BOOST_TEST(sum == 49 * 50 / 2);
}

BOOST_AUTO_TEST_CASE(an_error_reaches_the_caller)
{
  SharedWork work;
  auto bad = put_task<int>(work, []() -> int { throw std::runtime_error("broken"); });
  auto good = put_task<int>(work, [] { return 7; });
  do_what_is_there(work);
  BOOST_CHECK_THROW(bad.get(), std::runtime_error);
  BOOST_TEST(good.get() == 7);
}

// A latch of a remedy costs no other solution of the panel: its position is prepared.
BOOST_AUTO_TEST_CASE(latch_positions_of_all_changes_are_prepared)
{
  for (const std::size_t latches : {1U, 2U}) {
    DoorCase door_case;
    door_case.door = test::barrel_door();
    Door& door = door_case.door;
    door.gasket.curve = {{1e-3, 500.0}, {4e-3, 3000.0}};
    for (std::size_t l = 0; l < latches; ++l) {
      Latch latch;
      latch.edge = FreeEdge::latch;
      latch.at = (0.3 + 0.3 * static_cast<double>(l)) * door.panel.height;
      door.latches.push_back(latch);
    }
    const auto foreseen = foreseen_latches(door);
    const auto asked = latch_places(door, possible_changes(door_case));
    BOOST_TEST(asked.size() > latches);
    for (const auto& latch : asked)
      BOOST_TEST(std::any_of(foreseen.begin(), foreseen.end(), [&](const Latch& place) {
        return norm(latch_place(door, place) - latch_place(door, latch)) < 1e-9;
      }));
  }
}

// No remedy puts a latch where there is one, and latches at one position all keep a position.
BOOST_AUTO_TEST_CASE(no_latch_is_added_where_one_is)
{
  DoorCase door_case;
  door_case.door = test::barrel_door();
  Door& door = door_case.door;
  door.gasket.curve = {{1e-3, 500.0}, {4e-3, 3000.0}};
  Latch latch;
  latch.edge = FreeEdge::latch;
  latch.at = 0.5 * door.panel.height;
  door.latches = {latch, latch, latch};
  const auto at_middle = [&](const std::vector<Latch>& latches) {
    return std::count_if(latches.begin(), latches.end(), [&](const Latch& other) {
      return norm(latch_place(door, other) - latch_place(door, latch)) < same_latch_place;
    });
  };
  const auto changes = possible_changes(door_case);
  BOOST_TEST(!changes.empty());
  for (const auto& change : changes)
    BOOST_TEST(at_middle(change.closing.latches) == 3, change.words);
  BOOST_TEST(at_middle(latch_places(door, changes)) == 3);
}
