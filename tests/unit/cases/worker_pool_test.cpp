// SPDX-License-Identifier: GPL-3.0-or-later
// A pool of worker processes: this program itself, which works when its arguments say so.
#define BOOST_TEST_MODULE worker_pool
#define BOOST_TEST_NO_MAIN
#include <boost/test/unit_test.hpp>

#include "cases/compare/worker_pool.hpp"
#include "meshing/common/errors.hpp"

#include <fmt/format.h>
#include <sys/resource.h>
#include <unistd.h>

#include <algorithm>
#include <chrono>
#include <cstdlib>
#include <filesystem>
#include <fstream>
#include <map>
#include <numeric>
#include <stdexcept>
#include <string>
#include <thread>
#include <vector>

using namespace hangtrue;
namespace fs = std::filesystem;

namespace
{

constexpr int nobody = -1000; // no number

// What one number left behind.
struct Trace {
  int process = 0;
  int parent = 0;
  int known = 0; // number that a process, or the one that it was copied from, did first
  bool alone = false;
};

// A worker that leaves a file for every number, dies on `deadly`, cannot do `-deadly` and has
// another thread on request.
int serve(const std::string& folder, int deadly, bool threaded)
{
  if (threaded)
    for (int t = 0; t < 3; ++t)
      std::thread([] { pause(); }).detach();
  int known = -1;
  compare::run_worker([&](int number, bool alone) {
    if (number == deadly)
      std::_Exit(9);
    if (number == -deadly)
      throw InputError("no room on the disk;\nmake some");
    if (known < 0)
      known = number;
    std::ofstream(fmt::format("{}/{}", folder, number))
        << getpid() << ' ' << getppid() << ' ' << known << ' ' << alone << '\n';
  });
  return 0;
}

class Folder
{
public:
  Folder() : path_(fs::temp_directory_path() / fmt::format("crew-{}-{}", getpid(), ++result_))
  {
    fs::create_directories(path_);
  }
  Folder(const Folder&) = delete;
  Folder& operator=(const Folder&) = delete;
  ~Folder() { fs::remove_all(path_); }

  [[nodiscard]] std::string path() const { return path_.string(); }
  [[nodiscard]] std::map<int, Trace> traces() const
  {
    std::map<int, Trace> result;
    for (const auto& entry : fs::directory_iterator(path_)) {
      Trace t;
      std::ifstream(entry.path()) >> t.process >> t.parent >> t.known >> t.alone;
      result[std::atoi(entry.path().filename().c_str())] = t;
    }
    return result;
  }

private:
  static inline int result_ = 0;
  fs::path path_;
};

struct Ended {
  std::vector<int> lost;
  std::vector<std::string> why;
  std::map<int, Trace> traces;
};

// One that has ended and that no process has waited for yet is not alive.
bool lives(int process)
{
  std::ifstream stat(fmt::format("/proc/{}/stat", process));
  std::string number;
  std::string name;
  std::string state;
  return static_cast<bool>(stat >> number >> name >> state) && state != "Z" && state != "X";
}

// Its files close a moment before it has ended; one that never ends is the time limit's to find.
void wait_for_end(int process)
{
  while (lives(process))
    std::this_thread::sleep_for(std::chrono::milliseconds(2)); // between two polls
}

Ended run(int count, int workers, int deadly = nobody, bool threaded = false)
{
  const Folder folder;
  std::vector<int> work(static_cast<std::size_t>(count));
  std::iota(work.begin(), work.end(), 0);
  Ended ended;
  for (const auto& l :
       compare::run_worker_pool({"worker_pool_test", "serve", folder.path(), std::to_string(deadly),
                                 threaded ? "threaded" : "plain"},
                                work, workers, [](std::size_t) {})) {
    ended.lost.push_back(l.number);
    ended.why.push_back(l.why);
  }
  ended.traces = folder.traces();
  return ended;
}

} // namespace

BOOST_AUTO_TEST_CASE(others_are_forked_from_the_first_and_share_its_state)
{
  const Ended ended = run(12, 3);
  BOOST_TEST(ended.lost.empty());
  BOOST_REQUIRE(ended.traces.size() == 12U);
  const Trace& first = ended.traces.at(0);
  BOOST_TEST(first.parent == getpid());
  BOOST_TEST(first.alone);
  for (const auto& [number, t] : ended.traces) {
    BOOST_TEST(t.known == 0);
    BOOST_TEST((t.process == first.process || t.parent == first.process), number);
    BOOST_TEST(t.alone == (number == 0));
  }
  // Every worker starts with its own third.
  BOOST_TEST(ended.traces.at(4).process != first.process);
  BOOST_TEST(ended.traces.at(8).process != ended.traces.at(4).process);
}

BOOST_AUTO_TEST_CASE(one_worker_forks_no_copies_and_never_has_the_alone_flag)
{
  const Ended ended = run(3, 1);
  BOOST_REQUIRE(ended.traces.size() == 3U);
  for (const auto& [number, t] : ended.traces) {
    BOOST_TEST(t.parent == getpid());
    BOOST_TEST(!t.alone);
  }
}

BOOST_AUTO_TEST_CASE(when_the_first_dies_at_once_the_others_are_started)
{
  const Ended ended = run(9, 3, 0);
  BOOST_TEST(ended.lost == std::vector<int>{0}, boost::test_tools::per_element());
  BOOST_TEST(ended.traces.size() == 8U);
  for (const auto& [number, t] : ended.traces)
    BOOST_TEST(t.parent == getpid());
}

BOOST_AUTO_TEST_CASE(when_the_first_dies_later_its_copies_carry_on)
{
  const Ended ended = run(9, 3, 1);
  BOOST_TEST(ended.lost == std::vector<int>{1}, boost::test_tools::per_element());
  BOOST_TEST(ended.traces.size() == 8U);
  BOOST_TEST(ended.traces.at(2).process != ended.traces.at(0).process);
}

BOOST_AUTO_TEST_CASE(a_copy_that_dies_loses_its_own_number_only)
{
  const Ended ended = run(9, 3, 4);
  BOOST_TEST(ended.lost == std::vector<int>{4}, boost::test_tools::per_element());
  BOOST_TEST(ended.traces.size() == 8U);
}

BOOST_AUTO_TEST_CASE(a_process_with_other_threads_is_not_forked)
{
  const Ended ended = run(6, 2, nobody, true);
  BOOST_TEST(ended.lost.empty());
  BOOST_REQUIRE(ended.traces.size() == 6U);
  for (const auto& [number, t] : ended.traces)
    BOOST_TEST(t.parent == getpid());
}

BOOST_AUTO_TEST_CASE(a_pool_that_cannot_be_started_says_so)
{
  // File descriptors for the ends of some workers and not for those of all.
  rlimit before{};
  BOOST_REQUIRE(getrlimit(RLIMIT_NOFILE, &before) == 0);
  rlimit few = before;
  few.rlim_cur = 140;
  BOOST_REQUIRE(setrlimit(RLIMIT_NOFILE, &few) == 0);
  const std::vector<int> work{0, 1, 2, 3, 4, 5, 6, 7};
  BOOST_CHECK_THROW(
      compare::run_worker_pool({"worker_pool_test", "serve", "nowhere", "-1000", "plain"}, work, 8,
                               [](std::size_t) {}),
      ComputeError);
  BOOST_REQUIRE(setrlimit(RLIMIT_NOFILE, &before) == 0);
}

BOOST_AUTO_TEST_CASE(no_worker_is_left_when_the_parent_gives_up)
{
  const Folder folder;
  std::vector<int> work(200);
  std::iota(work.begin(), work.end(), 0);
  BOOST_CHECK_THROW(compare::run_worker_pool(
                        {"worker_pool_test", "serve", folder.path(), "-1000", "plain"}, work, 3,
                        [](std::size_t done) {
                          if (done > 6)
                            throw std::runtime_error("enough");
                        }),
                    std::runtime_error);
  const auto traces = folder.traces();
  BOOST_TEST(traces.size() < 200U);
  for (const auto& [number, t] : traces)
    wait_for_end(t.process);
}

// A number that could not be done is reported with its reason, and the worker goes on.
BOOST_AUTO_TEST_CASE(failed_numbers_are_reported_with_their_reason)
{
  for (const int workers : {1, 3}) {
    const Ended ended = run(9, workers, -4); // number 4
    BOOST_TEST(ended.lost == std::vector<int>{4}, boost::test_tools::per_element());
    BOOST_TEST(ended.why.at(0) == "no room on the disk; make some");
    BOOST_TEST(ended.traces.size() == 8U);
  }
  // How a worker died that was started here is reported too.
  BOOST_TEST(run(3, 1, 1).why.at(0).find("status 9") != std::string::npos);
}

// The callback on a number is called before the worker is given the next.
BOOST_AUTO_TEST_CASE(a_callback_that_throws_stops_before_the_next_number)
{
  const Folder folder;
  struct Enough {
  };
  BOOST_CHECK_THROW(
      compare::run_worker_pool({"worker_pool_test", "serve", folder.path(), "-1000", "plain"},
                               {1, 2, 3}, 1,
                               [](std::size_t done) {
                                 if (done == 1)
                                   throw Enough{};
                               }),
      Enough);
  BOOST_TEST(folder.traces().size() == 1U);
}

int main(int count, char** words)
{
  if (count == 5 && std::string(words[1]) == "serve")
    return serve(words[2], std::atoi(words[3]), std::string(words[4]) == "threaded");
  return boost::unit_test::unit_test_main(&init_unit_test, count, words);
}
