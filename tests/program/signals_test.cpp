// SPDX-License-Identifier: GPL-3.0-or-later
// Ctrl-C and SIGTERM at every stage of a run: status 130, nothing half-written.
#define BOOST_TEST_MODULE signals
#include <boost/test/unit_test.hpp>

#include "tests/support/program_folder.hpp"
#include "tests/support/running_program.hpp"

#include <array>
#include <filesystem>
#include <string>
#include <vector>

namespace fs = std::filesystem;
using hangtrue::test::holds_signals;
using hangtrue::test::read;
using hangtrue::test::Running;
using hangtrue::test::seen;

namespace
{

constexpr int by_interrupt = 130;

// A door whose check takes longer than any test waits.
const std::string long_door = R"([door]
name = "Little door"
width = "12 in"
height = "14 in"
[[hinge]]
at = "3 in"
[[hinge]]
at = "11 in"
[accuracy]
finest_level = 5
tolerance = 0.0001
[limits]
drop = "1/4 in"
)";

struct Folder : hangtrue::test::Folder {
  Folder() : hangtrue::test::Folder("hangtrue signals") { write("door.toml", long_door); }
  [[nodiscard]] bool has(const std::string& name) const { return fs::exists(path / name); }
  [[nodiscard]] bool says(const std::string& file, const std::string& words) const
  {
    return read(path / file).find(words) != std::string::npos;
  }
};

std::vector<std::string> program(std::vector<std::string> words)
{
  words.insert(words.begin(), HANGTRUE_PROGRAM);
  return words;
}

const std::vector<std::string> check{"check", "door.toml", "--out", "a/b"};

void ends_cleanly(const Folder& folder, Running& run)
{
  BOOST_TEST(run.end() == by_interrupt);
  BOOST_TEST(folder.says("err.txt", "ended before it was done"));
  BOOST_TEST(!folder.has("a")); // created for it, and removed with it
}

} // namespace

// The signal is pending at the program's first instruction, so it is the first that it can receive;
// also for commands without progress calls.
BOOST_AUTO_TEST_CASE(a_pending_signal_is_handled)
{
  const Folder folder;
  for (const int signal : {SIGTERM, SIGINT})
    for (const auto& words : {check, {"keys"}, {"new", "other.toml"}, {"mesh", "door.toml"}}) {
      Running run(folder.path, program(words), signal);
      BOOST_TEST_CONTEXT(words.front() << ", signal " << signal)
      {
        ends_cleanly(folder, run);
      }
      BOOST_TEST(!folder.has("other.toml"));
      BOOST_TEST(!folder.has("door-results"));
    }
}

// As soon as it owns its signals, which is before anything is read.
BOOST_AUTO_TEST_CASE(from_the_first_instruction)
{
  const Folder folder;
  for (const int signal : {SIGTERM, SIGINT}) {
    Running run(folder.path, program(check));
    BOOST_REQUIRE(seen(run.process(), [&] { return holds_signals(run.process()); }));
    run.send(signal);
    ends_cleanly(folder, run);
  }
}

// While it reads and lists, when there is nothing to clear away yet: ten thousand variants take
// long.
BOOST_AUTO_TEST_CASE(while_variants_are_listed)
{
  const Folder folder;
  Running run(folder.path, program({"compare", "door.toml", "--out", "a", "--try",
                                    "hinge.end_float: 0.01 in .. 0.06 in in 100", "--try",
                                    "handle.force: 0 lbf .. 20 lbf in 100"}));
  BOOST_REQUIRE(seen(run.process(), [&] { return holds_signals(run.process()); }));
  run.send(SIGTERM);
  ends_cleanly(folder, run);
}

// At work: when it has its folder, and when it has said what memory it needs.
BOOST_AUTO_TEST_CASE(while_it_works)
{
  const Folder folder;
  for (const int signal : {SIGTERM, SIGINT}) {
    Running early(folder.path, program(check));
    BOOST_REQUIRE(seen(early.process(), [&] { return folder.has("a/b"); }));
    early.send(signal);
    ends_cleanly(folder, early);
    Running late(folder.path, program(check));
    BOOST_REQUIRE(seen(late.process(), [&] { return folder.says("out.txt", "needs about"); }));
    late.send(signal);
    ends_cleanly(folder, late);
    BOOST_TEST(!folder.says("out.txt", "Drop"));
  }
}

// Also a second signal, seconds later on a slow machine, ends with the same status.
BOOST_AUTO_TEST_CASE(a_repeated_request_to_end_is_handled)
{
  const Folder folder;
  Running run(folder.path, program(check));
  BOOST_REQUIRE(seen(run.process(), [&] { return folder.says("out.txt", "needs about"); }));
  const bool ended = !seen(run.process(), [&] {
    run.send(SIGTERM);
    return false;
  });
  BOOST_TEST(ended);
  BOOST_TEST(run.end() == by_interrupt);
}

// A comparison passes the request on: no worker is left.
BOOST_AUTO_TEST_CASE(a_comparison_ends_with_its_workers)
{
  const Folder folder;
  std::string text = long_door; // workers share the memory, and a finest level of 5 would not fit
  text.replace(text.find("finest_level = 5"), 16, "finest_level = 2");
  folder.write("door.toml", text);
  Running run(folder.path, program({"compare", "door.toml", "--out", "a", "--workers", "2", "--try",
                                    "hinge.end_float: 0.01 in | 0.02 in | 0.03 in"}));
  const auto forward = [&] { // a worker has its folder
    std::error_code none;
    for (const auto& entry : fs::directory_iterator(folder.path / "a", none))
      if (entry.is_directory())
        return true;
    return false;
  };
  BOOST_REQUIRE(seen(run.process(), forward));
  run.send(SIGINT);
  BOOST_TEST(run.end() == by_interrupt);
  BOOST_TEST(!folder.has("a")); // the worker's too
}
