// SPDX-License-Identifier: GPL-3.0-or-later
// Tasks by what they need: every one once and in order, errors passed on, nobody waits for ever.
#define BOOST_TEST_MODULE schedule
#include "cases/runtime/schedule.hpp"

#include <boost/test/unit_test.hpp>

#include <atomic>
#include <chrono>
#include <condition_variable>
#include <mutex>
#include <stdexcept>
#include <string>
#include <thread>
#include <vector>

using namespace hangtrue;

namespace
{

// Runs tasks and gives what was thrown, or nothing.
std::string error_of(const std::vector<runtime::Task>& tasks, int threads)
{
  try {
    runtime::run_tasks(tasks, threads);
  } catch (const std::runtime_error& error) {
    return error.what();
  }
  return "";
}

runtime::Task failing(const std::string& name, std::vector<std::string> needs = {})
{
  return {name, std::move(needs), [name] { throw std::runtime_error(name); }};
}

} // namespace

BOOST_AUTO_TEST_CASE(one_thread_goes_down_the_list)
{
  std::string order;
  const auto task = [&](const std::string& name, std::vector<std::string> needs = {}) {
    return runtime::Task{name, std::move(needs), [&order, name] { order += name; }};
  };
  runtime::run_tasks({task("a"), task("b", {"a"}), task("c"), task("d", {"b", "c"})}, 1);
  BOOST_TEST(order == "abcd");
  runtime::run_tasks({}, 2);
}

BOOST_AUTO_TEST_CASE(every_task_runs_once_after_what_it_needs)
{
  constexpr int count = 300;
  std::vector<int> of_one;
  for (const int threads : {1, 2, 5}) {
    std::vector<int> value(count, 0);
    std::vector<std::atomic<int>> runs(count);
    std::vector<runtime::Task> tasks;
    for (int i = 0; i < count; ++i) {
      std::vector<std::string> needs;
      for (const int before : {i / 2, i - 3})
        if (before >= 0 && before < i)
          needs.push_back(std::to_string(before));
      tasks.push_back({std::to_string(i), needs, [&, i] {
                         ++runs[i];
                         value[i] = i + (i > 0 ? value[i / 2] : 0) + (i >= 3 ? value[i - 3] : 0);
                       }});
    }
    runtime::run_tasks(tasks, threads);
    for (const auto& times : runs)
      BOOST_TEST(times.load() == 1);
    if (of_one.empty())
      of_one = value;
    BOOST_TEST((value == of_one));
  }
}

// Each of two waits until the other has begun.
BOOST_AUTO_TEST_CASE(two_threads_run_two_tasks_at_once)
{
  std::mutex mutex;
  std::condition_variable changed;
  int forward = 0;
  int met = 0;
  const auto meet = [&] {
    std::unique_lock<std::mutex> lock(mutex);
    ++forward;
    changed.notify_all();
    met += changed.wait_for(lock, std::chrono::minutes(1), [&] { return forward == 2; }) ? 1 : 0;
  };
  runtime::run_tasks({{"one", {}, meet}, {"other", {}, meet}}, 2);
  BOOST_TEST(met == 2);
}

// Who asks sees to the first task, so what it says is said in that thread.
BOOST_AUTO_TEST_CASE(the_first_task_runs_here)
{
  const auto here = std::this_thread::get_id();
  for (int again = 0; again < 50; ++again) {
    std::thread::id first;
    std::atomic<int> other = 0;
    runtime::run_tasks({{"first", {}, [&] { first = std::this_thread::get_id(); }},
                        {"other", {}, [&] { ++other; }}},
                       2);
    BOOST_TEST((first == here));
    BOOST_TEST(other.load() == 1);
  }
}

BOOST_AUTO_TEST_CASE(an_error_is_passed_on_and_nobody_waits)
{
  for (const int threads : {1, 2}) {
    std::atomic<bool> after = false;
    const std::vector<runtime::Task> tasks{{"good", {}, [] {}},
                                           failing("bad", {"good"}),
                                           {"after", {"bad"}, [&] { after = true; }},
                                           {"last", {"after"}, [&] { after = true; }}};
    BOOST_TEST(error_of(tasks, threads) == "bad");
    BOOST_TEST(!after.load());
  }
}

// A later task that fails sooner stops none before it: the error is the one that one thread meets.
BOOST_AUTO_TEST_CASE(the_first_error_of_the_list_counts)
{
  std::atomic<bool> failed = false;
  const std::vector<runtime::Task> tasks{{"slow",
                                          {},
                                          [&] {
                                            while (!failed) // the other thread's
                                              std::this_thread::yield();
                                          }},
                                         {"sooner", {}, [&] {
                                            failed = true;
                                            throw std::runtime_error("sooner");
                                          }}};
  BOOST_TEST(error_of(tasks, 2) == "sooner");
  failed = false;
  std::vector<runtime::Task> both = tasks;
  both.insert(both.begin() + 1, failing("listed before", {"slow"}));
  BOOST_TEST(error_of(both, 2) == "listed before");
}

BOOST_AUTO_TEST_CASE(a_need_must_stand_before)
{
  const auto nothing = [] {};
  BOOST_CHECK_THROW(runtime::run_tasks({{"a", {"b"}, nothing}, {"b", {}, nothing}}, 2),
                    std::invalid_argument);
  BOOST_CHECK_THROW(runtime::run_tasks({{"a", {"a"}, nothing}}, 1), std::invalid_argument);
}
