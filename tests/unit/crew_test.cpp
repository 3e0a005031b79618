// A crew of worker processes: this program itself, which serves when it is told to.
#define BOOST_TEST_MODULE crew
#define BOOST_TEST_NO_MAIN
#include <boost/test/unit_test.hpp>

#include "cases/worker_crew.hpp"
#include "meshing/errors.hpp"

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

// What one number left behind.
struct Trace {
  int process = 0;
  int parent = 0;
  int known = 0; // number that a process, or the one that it was copied from, did first
  bool alone = false;
};

// A worker that leaves a file for every number, dies on `deadly` and has another thread if asked.
int serve(const std::string& folder, int deadly, bool threaded)
{
  if (threaded)
    for (int t = 0; t < 3; ++t)
      std::thread([] { std::this_thread::sleep_for(std::chrono::hours(1)); }).detach();
  int known = -1;
  serve_crew([&](int number, bool alone) {
    if (number == deadly)
      std::_Exit(9);
    if (known < 0)
      known = number;
    std::ofstream(fmt::format("{}/{}", folder, number))
        << getpid() << ' ' << getppid() << ' ' << known << ' ' << alone << '\n';
    std::this_thread::sleep_for(std::chrono::milliseconds(20)); // so that all get some
  });
  return 0;
}

class Folder
{
public:
  Folder() : path_(fs::temp_directory_path() / fmt::format("crew-{}-{}", getpid(), ++made_))
  {
    fs::create_directories(path_);
  }
  Folder(const Folder&) = delete;
  Folder& operator=(const Folder&) = delete;
  ~Folder() { fs::remove_all(path_); }

  [[nodiscard]] std::string path() const { return path_.string(); }
  [[nodiscard]] std::map<int, Trace> traces() const
  {
    std::map<int, Trace> made;
    for (const auto& entry : fs::directory_iterator(path_)) {
      Trace t;
      std::ifstream(entry.path()) >> t.process >> t.parent >> t.known >> t.alone;
      made[std::atoi(entry.path().filename().c_str())] = t;
    }
    return made;
  }

private:
  static inline int made_ = 0;
  fs::path path_;
};

struct Ended {
  std::vector<int> lost;
  std::map<int, Trace> traces;
};

// One that has ended and that nobody has asked for yet does not live.
bool lives(int process)
{
  std::ifstream stat(fmt::format("/proc/{}/stat", process));
  std::string number;
  std::string name;
  std::string state;
  return static_cast<bool>(stat >> number >> name >> state) && state != "Z" && state != "X";
}

// Its files close a moment before it has ended.
bool lives_on(int process)
{
  for (int tries = 0; tries < 100 && lives(process); ++tries)
    std::this_thread::sleep_for(std::chrono::milliseconds(20));
  return lives(process);
}

Ended run(int count, int workers, int deadly = -1, bool threaded = false)
{
  const Folder folder;
  std::vector<int> work(static_cast<std::size_t>(count));
  std::iota(work.begin(), work.end(), 0);
  Ended ended;
  ended.lost = run_crew({"crew_test", "serve", folder.path(), std::to_string(deadly),
                         threaded ? "threaded" : "plain"},
                        work, workers, [](std::size_t) {});
  ended.traces = folder.traces();
  return ended;
}

} // namespace

BOOST_AUTO_TEST_CASE(others_are_copied_from_the_first_and_know_what_it_knows)
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
  // Every worker begins with its own third.
  BOOST_TEST(ended.traces.at(4).process != first.process);
  BOOST_TEST(ended.traces.at(8).process != ended.traces.at(4).process);
}

BOOST_AUTO_TEST_CASE(one_worker_makes_no_copies_and_is_never_told_that_it_is_alone)
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

BOOST_AUTO_TEST_CASE(a_process_with_other_threads_is_not_copied)
{
  const Ended ended = run(6, 2, -1, true);
  BOOST_TEST(ended.lost.empty());
  BOOST_REQUIRE(ended.traces.size() == 6U);
  for (const auto& [number, t] : ended.traces)
    BOOST_TEST(t.parent == getpid());
}

BOOST_AUTO_TEST_CASE(a_crew_that_cannot_be_started_says_so)
{
  // Room for the ends of some workers and not for those of all.
  rlimit before{};
  BOOST_REQUIRE(getrlimit(RLIMIT_NOFILE, &before) == 0);
  rlimit few = before;
  few.rlim_cur = 140;
  BOOST_REQUIRE(setrlimit(RLIMIT_NOFILE, &few) == 0);
  const std::vector<int> work{0, 1, 2, 3, 4, 5, 6, 7};
  BOOST_CHECK_THROW(
      run_crew({"crew_test", "serve", "nowhere", "-1", "plain"}, work, 8, [](std::size_t) {}),
      ComputeError);
  BOOST_REQUIRE(setrlimit(RLIMIT_NOFILE, &before) == 0);
}

BOOST_AUTO_TEST_CASE(nobody_is_left_when_the_owner_gives_up)
{
  const Folder folder;
  std::vector<int> work(200);
  std::iota(work.begin(), work.end(), 0);
  BOOST_CHECK_THROW(run_crew({"crew_test", "serve", folder.path(), "-1", "plain"}, work, 3,
                             [](std::size_t done) {
                               if (done > 6)
                                 throw std::runtime_error("enough");
                             }),
                    std::runtime_error);
  const auto traces = folder.traces();
  BOOST_TEST(traces.size() < 200U);
  for (const auto& [number, t] : traces)
    BOOST_TEST(!lives_on(t.process), number);
}

int main(int count, char** words)
{
  if (count == 5 && std::string(words[1]) == "serve")
    return serve(words[2], std::atoi(words[3]), std::string(words[4]) == "threaded");
  return boost::unit_test::unit_test_main(&init_unit_test, count, words);
}
