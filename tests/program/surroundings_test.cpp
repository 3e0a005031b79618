// SPDX-License-Identifier: GPL-3.0-or-later
// The program in unusual surroundings: no home, other locales, links and '..' in the path.
#define BOOST_TEST_MODULE surroundings
#include <boost/test/unit_test.hpp>

#include "cases/input/door_file.hpp"
#include "cases/input/units.hpp"
#include "cases/output/output_folder.hpp"
#include "meshing/common/errors.hpp"
#include "tests/support/door_texts.hpp"
#include "tests/support/program_folder.hpp"

#include <clocale>
#include <filesystem>
#include <fstream>
#include <iterator>
#include <locale>
#include <string>
#include <sys/wait.h>
#include <unistd.h>

using namespace hangtrue;
using namespace hangtrue::test;
namespace fs = std::filesystem;

namespace
{

struct OwnFolder : Folder {
  OwnFolder() : Folder("hangtrue out") {}
};

struct Comma : std::numpunct<char> {
  [[nodiscard]] char do_decimal_point() const override { return ','; }
  [[nodiscard]] char do_thousands_sep() const override { return '.'; }
  [[nodiscard]] std::string do_grouping() const override { return "\3"; }
};

// Sets locales with decimal commas while it lives; the C library's only where one is installed.
struct CommaEverywhere {
  std::locale before = std::locale::global(std::locale(std::locale::classic(), new Comma));
  CommaEverywhere()
  {
    for (const char* name : {"de_DE.UTF-8", "fr_FR.UTF-8", "de_DE.utf8"})
      if (std::setlocale(LC_ALL, name) != nullptr)
        break;
  }
  ~CommaEverywhere()
  {
    std::locale::global(before);
    std::setlocale(LC_ALL, "C");
  }
  CommaEverywhere(const CommaEverywhere&) = delete;
  CommaEverywhere& operator=(const CommaEverywhere&) = delete;
};

} // namespace

BOOST_AUTO_TEST_CASE(decimal_commas_change_nothing)
{
  const double width = input::read_door_text(good, "door.toml").door.panel.width;
  const std::string shown =
      input::format_quantity(1234.5678, input::Dimension::length, input::UnitSystem::si);
  const std::string exact = input::format_exact(0.1, input::Dimension::length);
  const CommaEverywhere commas;
  BOOST_TEST(input::read_door_text(with("30 in", "30.0 in"), "door.toml").door.panel.width ==
             width);
  BOOST_TEST(input::parse_quantity("1.5 in", input::Dimension::length) == 1.5 * 0.0254);
  BOOST_TEST(input::format_quantity(1234.5678, input::Dimension::length, input::UnitSystem::si) ==
             shown);
  BOOST_TEST(input::format_exact(0.1, input::Dimension::length) == exact);
}

BOOST_AUTO_TEST_CASE(without_a_home)
{
  const OwnFolder folder;
  std::ofstream(folder.path / "door.toml") << good;
  const std::string command = "cd '" + folder.path.string() +
                              "' && env -i '" HANGTRUE_PROGRAM
                              "' mesh door.toml --level 1 --out out > out.txt 2> err.txt";
  BOOST_TEST(WEXITSTATUS(std::system(command.c_str())) == 0);
  BOOST_TEST(fs::exists(folder.path / "out" / "door.msh"));
}

// A result that is a link, or a list that is one, would be written outside the folder.
BOOST_AUTO_TEST_CASE(links_do_not_lead_out)
{
  const OwnFolder folder;
  const fs::path precious = folder.path / "precious.txt";
  for (const char* name : {"results.json", ".hangtrue-results"}) {
    std::ofstream(precious) << "mine";
    const fs::path out = folder.path / "out";
    fs::create_directories(out);
    fs::create_symlink("../precious.txt", out / name);
    BOOST_CHECK_THROW(output::OutputFolder(out.string(), {"results.json"}), InputError);
    BOOST_TEST(read(precious) == "mine");
    fs::remove_all(out);
  }
  // A list of another program is left alone as well.
  fs::create_directories(folder.path / "out");
  std::ofstream(folder.path / "out" / ".hangtrue-results") << "shopping list\n";
  BOOST_CHECK_THROW(output::OutputFolder((folder.path / "out").string(), {"results.json"}),
                    InputError);
}

// A list that names files outside does not allow to replace them: only names that the program
// itself writes are ever looked up.
BOOST_AUTO_TEST_CASE(a_list_gives_no_licence_outside)
{
  const OwnFolder folder;
  const fs::path out = folder.path / "out";
  fs::create_directories(out);
  std::ofstream(folder.path / "precious.txt") << "mine";
  std::ofstream(out / ".hangtrue-results")
      << "hangtrue may replace these files in this folder:\n../precious.txt\nresults.json\n";
  {
    output::OutputFolder results(out.string(), {"results.json"});
    results.write("results.json", "{}");
    results.keep();
  }
  BOOST_TEST(read(folder.path / "precious.txt") == "mine");
  BOOST_TEST(read(out / "results.json") == "{}");
  BOOST_TEST(std::distance(fs::directory_iterator(folder.path), fs::directory_iterator()) == 2);
}

// '..' in the name of the folder is followed as given; nothing else is created or left beside it.
BOOST_AUTO_TEST_CASE(a_folder_through_another)
{
  const OwnFolder folder;
  fs::create_directories(folder.path / "a");
  {
    output::OutputFolder results((folder.path / "a" / ".." / "b").string(), {"results.json"});
    results.write("results.json", "{}");
    results.keep();
  }
  BOOST_TEST(fs::exists(folder.path / "b" / "results.json"));
  BOOST_TEST(fs::is_empty(folder.path / "a"));
}

BOOST_AUTO_TEST_CASE(two_processes_of_one_job_may_end_at_the_same_moment)
{
  // Two ranks write the same table into one folder: the second started before the first had saved
  // it.
  const OwnFolder folder;
  const fs::path out = folder.path / "out";
  output::OutputFolder first(out.string(), {"table.csv"});
  output::OutputFolder second(out.string(), {"table.csv"});
  first.write("table.csv", "first");
  first.write("own.csv", "of the first");
  first.keep();
  second.write("table.csv", "second");
  BOOST_CHECK_NO_THROW(second.keep());
  BOOST_TEST(read(out / "table.csv") == "second");
  // What the first wrote stays in the list of the program's own files.
  BOOST_CHECK_NO_THROW(output::OutputFolder(out.string(), {"own.csv", "table.csv"}));
}

// Observed by killing the parent of a pool: its worker and that of the next run fill one folder at
// the same time, and the later one took the files of the earlier for those of another program.
BOOST_AUTO_TEST_CASE(two_runs_into_one_folder)
{
  const OwnFolder folder;
  const std::string out = (folder.path / "out").string();
  output::OutputFolder first(out, {"results.json"});
  output::OutputFolder second(out, {"results.json"});
  first.write("results.json", "first");
  first.keep();
  second.write("results.json", "second");
  second.keep();
  BOOST_TEST(read(folder.path / "out" / "results.json") == "second");
}

// What a killed run has left goes with the next; what a running one writes stays.
BOOST_AUTO_TEST_CASE(only_orphans_are_removed)
{
  const OwnFolder folder;
  const fs::path out = folder.path / "out";
  output::OutputFolder living(out.string(), {"results.json"});
  living.write("results.json", "{}");
  const fs::path half = living.temporary("results.json");
  std::string name = half.filename().string();
  const std::string own = std::to_string(getpid());
  const pid_t child = fork();
  if (child == 0)
    _exit(0);
  BOOST_REQUIRE(waitpid(child, nullptr, 0) == child); // no process has that number now
  const std::string orphan = name.replace(name.find(own), own.size(), std::to_string(child));
  std::ofstream(out / orphan) << "half";
  std::ofstream(out / ".part-elsewhere-1-results.json") << "of another machine";
  {
    const output::OutputFolder next(out.string(), {"results.json"});
  }
  BOOST_TEST(!fs::exists(out / orphan));
  BOOST_TEST(fs::exists(half));
  BOOST_TEST(fs::exists(out / ".part-elsewhere-1-results.json"));
}
