// SPDX-License-Identifier: GPL-3.0-or-later
// The program as its user runs it.
#define BOOST_TEST_MODULE program
#include <boost/test/unit_test.hpp>

#include "tests/support/program_folder.hpp"

#include <nlohmann/json.hpp>

#include <algorithm>
#include <cmath>
#include <filesystem>
#include <fstream>
#include <iterator>
#include <regex>
#include <sstream>
#include <string>
#include <sys/wait.h>
#include <unistd.h>

namespace fs = std::filesystem;
using hangtrue::test::Ran;
using hangtrue::test::read;
using Json = nlohmann::json;

namespace
{

// With a space and a letter beyond ASCII in its name.
struct Folder : hangtrue::test::Folder {
  Folder() : hangtrue::test::Folder("hangtrue prøve") {}
};

std::size_t entries(const fs::path& folder)
{
  return static_cast<std::size_t>(
      std::distance(fs::directory_iterator(folder), fs::directory_iterator()));
}

// In letters, not bytes.
std::size_t widest_line(const std::string& text)
{
  std::size_t widest = 0;
  std::istringstream lines(text);
  for (std::string line; std::getline(lines, line);)
    widest = std::max<std::size_t>(widest, std::count_if(line.begin(), line.end(), [](char c) {
                                     return (static_cast<unsigned char>(c) & 0xC0U) != 0x80U;
                                   }));
  return widest;
}

// A small, coarse door, so that a whole check takes seconds.
const std::string small_door = R"([door]
name = "Little <door> & frame"
width = "12 in"
height = "14 in"
[[hinge]]
at = "3 in"
[[hinge]]
at = "11 in"
[accuracy]
finest_level = 1
[limits]
drop = "1/4 in"
)";

} // namespace

BOOST_AUTO_TEST_CASE(help_version_and_wrong_arguments)
{
  const Folder folder;
  BOOST_TEST(folder.run("--help").status == 0);
  BOOST_TEST(folder.run("--help").out.find("check") != std::string::npos);
  BOOST_TEST(folder.run("--version").out.rfind("hangtrue ", 0) == 0U);
  BOOST_TEST(folder.run("").status == 2);
  BOOST_TEST(folder.run("chek door.toml").status == 2);
  BOOST_TEST(folder.run("check").status == 2);
  BOOST_TEST(folder.run("check none.toml").status == 2);
}

BOOST_AUTO_TEST_CASE(a_new_file_is_created_once)
{
  const Folder folder;
  BOOST_TEST(folder.run("new mine.toml").status == 0);
  const std::string first = read(folder.path / "mine.toml");
  BOOST_TEST(first == folder.run("new").out);
  const Ran again = folder.run("new mine.toml");
  BOOST_TEST(again.status == 2);
  BOOST_TEST(again.err.find("already") != std::string::npos);
  BOOST_TEST(read(folder.path / "mine.toml") == first);
}

BOOST_AUTO_TEST_CASE(a_check_and_its_contract)
{
  const Folder folder;
  folder.write("door.toml", small_door);
  const Ran ran = folder.run("check door.toml");
  BOOST_TEST_CONTEXT(ran.out << ran.err)
  {
    // A single level gives no error estimate, so the drop is close at best: still status 0.
    BOOST_TEST(ran.status == 0);
    BOOST_TEST(ran.err.empty()); // quiet in a pipe
    BOOST_TEST(ran.out.find("Weight") != std::string::npos);
    BOOST_TEST(ran.out.find("drop and crush") != std::string::npos);
  }
  const Json results = Json::parse(read(folder.path / "door-results" / "results.json"));
  for (const char* key : {"program", "version", "weight_N", "centre_of_gravity_m", "states",
                          "checks", "door_as_understood", "verdict"})
    BOOST_TEST(results.contains(key), key);
  const Json& state = results["states"][0];
  for (const char* key : {"name", "drop_m", "lean_m", "set_back_m", "corners", "knuckles",
                          "equilibrium_force_error", "equilibrium_moment_error"})
    BOOST_TEST(state.contains(key), key);
  BOOST_TEST(state["knuckles"].size() == 6U);
  BOOST_TEST(state["knuckles"][0].contains("owner"));
  BOOST_TEST(state["knuckles"][0].contains("force_N"));
  for (const Json& check : results["checks"])
    for (const char* key :
         {"name", "state", "found", "limit", "unit", "limit_origin", "use", "verdict"})
      BOOST_TEST(check.contains(key), key);
  // The knuckles of the door carry its weight.
  double up = 0.0;
  for (const Json& k : state["knuckles"])
    if (k["owner"] == "door")
      up += k["force_N"][2].get<double>();
  BOOST_TEST(std::abs(up / results["weight_N"].get<double>() - 1.0) < 1e-8);
  BOOST_TEST(state["equilibrium_force_error"].get<double>() < 1e-8);
  // Texts from the file are escaped in the drawing.
  const std::string drawing = read(folder.path / "door-results" / "drop.svg");
  BOOST_TEST(drawing.find("Little &lt;door&gt; &amp; frame") != std::string::npos);
  for (const char* file : {"states.pvd", "door-open.vtu", "frame-open.vtu", "pin-1-open.vtu"})
    BOOST_TEST(fs::exists(folder.path / "door-results" / file), file);
  BOOST_TEST(widest_line(ran.out) <= 100U);
  const Json timing = Json::parse(read(folder.path / "door-results" / "timing.json"));
  double stages = 0.0;
  for (const Json& stage : timing["stages"])
    stages += stage["wall_s"].get<double>();
  // Both are rounded to the last place of a double, and the sum has a few terms.
  BOOST_TEST(std::abs(stages - timing["wall_s"].get<double>()) < 1e-9);
  BOOST_TEST(stages > 0.0);
  BOOST_TEST(timing["most_memory_byte"].get<double>() < 2147483648.0); // 2 GiB, as promised
  for (const auto& entry : fs::directory_iterator(folder.path / "door-results"))
    BOOST_TEST(entry.path().filename().string().rfind(".part-", 0) != 0U);

  // The same in, the same out; and --strict counts a close call.
  const std::string first = read(folder.path / "door-results" / "results.json");
  BOOST_TEST(folder.run("check door.toml --out again --strict").status == 1);
  BOOST_TEST(read(folder.path / "again" / "results.json") == first);
}

BOOST_AUTO_TEST_CASE(a_door_that_fails)
{
  const Folder folder;
  std::string text = small_door;
  text.replace(text.find("1/4 in"), 6, "1/256 in");
  folder.write("door.toml", text);
  const Ran ran = folder.run("check door.toml --out results");
  BOOST_TEST(ran.status == 1);
  BOOST_TEST(ran.out.find("fails   drop of the latch corner") != std::string::npos);
}

BOOST_AUTO_TEST_CASE(wrong_files_write_nothing)
{
  const Folder folder;
  folder.write("door.toml", "[door]\nwidth = 30\n");
  const Ran ran = folder.run("check door.toml --out results");
  BOOST_TEST(ran.status == 2);
  BOOST_TEST(ran.err.find("door.toml:2:9: door.width") != std::string::npos);
  BOOST_TEST(!fs::exists(folder.path / "results"));
  BOOST_TEST(folder.run("mesh door.toml --out results").status == 2);
  BOOST_TEST(!fs::exists(folder.path / "results"));
}

BOOST_AUTO_TEST_CASE(files_of_others_are_left_alone)
{
  const Folder folder;
  folder.write("door.toml", small_door);
  for (const std::string name : {"results.json", "drop.svg", "states.pvd", "pin-2-open.vtu"}) {
    fs::create_directories(folder.path / "theirs");
    folder.write("theirs/" + name, "theirs");
    const Ran ran = folder.run("check door.toml --out theirs");
    BOOST_TEST(ran.status == 2);
    BOOST_TEST(ran.err.find(name + " that this program did not write") != std::string::npos);
    BOOST_TEST(read(folder.path / "theirs" / name) == "theirs");
    BOOST_TEST(entries(folder.path / "theirs") == 1U); // nothing was added beside it
    fs::remove_all(folder.path / "theirs");
  }
  fs::create_directories(folder.path / "theirs");
  folder.write("theirs/door.msh", "theirs");
  BOOST_TEST(folder.run("mesh door.toml --level 1 --out theirs").status == 2);
  BOOST_TEST(read(folder.path / "theirs" / "door.msh") == "theirs");
  BOOST_TEST(folder.run("check door.toml --out door.toml").status == 2);
  BOOST_TEST(read(folder.path / "door.toml") == small_door);
}

BOOST_AUTO_TEST_CASE(own_results_are_refreshed_and_neighbours_stay)
{
  const Folder folder;
  folder.write("door.toml", small_door);
  BOOST_TEST(folder.run("mesh door.toml --level 1 --out out").status == 0);
  folder.write("out/notes.txt", "mine");
  folder.write("out/door-mesh.vtu", "stale");
  BOOST_TEST(folder.run("mesh door.toml --level 1 --out out").status == 0);
  BOOST_TEST(read(folder.path / "out" / "notes.txt") == "mine");
  BOOST_TEST(read(folder.path / "out" / "door-mesh.vtu").find("VTKFile") != std::string::npos);
  // A file that was created later under the name of a result is not overwritten.
  folder.write("out/drop.svg", "mine");
  BOOST_TEST(folder.run("check door.toml --out out").status == 2);
  BOOST_TEST(read(folder.path / "out" / "drop.svg") == "mine");
}

BOOST_AUTO_TEST_CASE(mesh_files_for_other_programs)
{
  const Folder folder;
  folder.write("door.toml", small_door);
  const Ran ran = folder.run("mesh door.toml --level 1 --out mesh");
  BOOST_TEST(ran.status == 0);
  BOOST_TEST(ran.out.find("all hexahedra") != std::string::npos);
  for (const char* file : {"door.msh", "door-mesh.vtu", "frame-mesh.vtu", "pin-1-mesh.vtu"})
    BOOST_TEST(fs::exists(folder.path / "mesh" / file), file);
}

// Before anything is read or computed for it, by every command that writes. A folder of /proc takes
// no files, though the administrator has the permission.
BOOST_AUTO_TEST_CASE(an_unwritable_folder_is_refused_before_the_work)
{
  const Folder folder;
  folder.write("door.toml", small_door);
  for (const std::string words :
       {"check door.toml", "mesh door.toml", "figures door.toml", "report door.toml",
        "compare door.toml --try 'hinge.pin_diameter: 3/4 in | 1 in'",
        "find door.toml --try 'hinge.pin_diameter: 3/4 in | 1 in'"})
    for (const std::string place : {"/proc/tty", "/proc/tty/new", "door.toml/new"}) {
      const Ran ran = folder.run(words + " --out " + place);
      BOOST_TEST_CONTEXT(words << " --out " << place << ": " << ran.out << ran.err)
      {
        BOOST_TEST(ran.status == 2);
        BOOST_TEST(ran.out.empty()); // what it needs of memory is said before the work
        BOOST_TEST(ran.err.find("the output folder: it cannot be ") != std::string::npos);
      }
    }
  BOOST_TEST(folder.run("new /proc/tty/door.toml").status == 2);
}

BOOST_AUTO_TEST_CASE(progress_shows_on_a_terminal_only)
{
  const Folder folder;
  folder.write("door.toml", small_door);
  // `script` gives the program a terminal of its own.
  const std::string command = "cd '" + folder.path.string() +
                              "' && script -qec \"'" HANGTRUE_PROGRAM
                              "' check door.toml > table.txt\" shown.txt > /dev/null 2>&1";
  BOOST_TEST(WEXITSTATUS(std::system(command.c_str())) == 0);
  const std::string shown = read(folder.path / "shown.txt");
  BOOST_TEST(shown.find("level 1: mesh") != std::string::npos);
  BOOST_TEST(shown.find("s left") != std::string::npos);
  BOOST_TEST(read(folder.path / "table.txt").find(" s left") == std::string::npos);
}

BOOST_AUTO_TEST_CASE(man_page_and_completion_have_every_command_and_option)
{
  const Folder folder;
  const fs::path source = HANGTRUE_SOURCE_DIR;
  std::string man = read(source / "docs" / "hangtrue.1");
  std::erase(man, '\\'); // a dash is written \- there
  for (const std::string command : {"new", "check", "mesh", "keys"}) {
    const std::string help = folder.run(command + " --help").out;
    const std::regex option("--[a-z]+");
    for (auto it = std::sregex_iterator(help.begin(), help.end(), option);
         it != std::sregex_iterator(); ++it) {
      const std::string word = it->str();
      BOOST_TEST(man.find(word) != std::string::npos, word << " in the man page");
      for (const char* file : {"hangtrue.bash", "_hangtrue"})
        BOOST_TEST(read(source / "cases" / "completion" / file).find(word) != std::string::npos,
                   word << " in " << file);
      const std::string fish = word == "--help" ? "-l help" : "-l " + word.substr(2);
      BOOST_TEST(read(source / "cases" / "completion" / "hangtrue.fish").find(fish) !=
                     std::string::npos,
                 word << " in hangtrue.fish");
    }
    BOOST_TEST(man.find(".B " + command) != std::string::npos, command << " in the man page");
    for (const char* file : {"hangtrue.bash", "_hangtrue", "hangtrue.fish"})
      BOOST_TEST(read(source / "cases" / "completion" / file).find(command) != std::string::npos,
                 command << " in " << file);
  }
}

BOOST_AUTO_TEST_CASE(pages_lead_somewhere)
{
  const fs::path source = HANGTRUE_SOURCE_DIR;
  std::vector<fs::path> pages{source / "README.md", source / "DEVELOPERS.md"};
  for (const auto& entry : fs::recursive_directory_iterator(source / "docs"))
    if (entry.path().extension() == ".md")
      pages.push_back(entry.path());
  const std::regex link(R"(\]\(([^)#:]+)[)#])"); // what stands in the tree, not addresses elsewhere
  int links = 0;
  for (const auto& page : pages) {
    const std::string text = read(page);
    for (auto it = std::sregex_iterator(text.begin(), text.end(), link);
         it != std::sregex_iterator(); ++it, ++links)
      BOOST_TEST(fs::exists(page.parent_path() / (*it)[1].str()),
                 page.filename() << " leads to " << (*it)[1].str() << ", which is not there");
  }
  BOOST_TEST(links > 4);
}
