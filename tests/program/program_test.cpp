// The program as its user runs it.
#define BOOST_TEST_MODULE program
#include <boost/test/unit_test.hpp>

#include <nlohmann/json.hpp>

#include <cmath>
#include <csignal>
#include <cstdio>
#include <filesystem>
#include <fstream>
#include <string>
#include <sys/wait.h>
#include <unistd.h>

namespace fs = std::filesystem;
using Json = nlohmann::json;

namespace
{

struct Ran {
  int status = 0;
  std::string out;
  std::string err;
};

std::string read(const fs::path& path)
{
  std::ifstream file(path, std::ios::binary);
  return {std::istreambuf_iterator<char>(file), {}};
}

// A folder of its own for every case, with a space and a letter beyond ASCII in its name.
struct Folder {
  fs::path path = fs::temp_directory_path() / ("hangtrue prøve " + std::to_string(getpid()));
  Folder()
  {
    fs::remove_all(path);
    fs::create_directories(path);
  }
  ~Folder() { fs::remove_all(path); }
  Folder(const Folder&) = delete;
  Folder& operator=(const Folder&) = delete;

  [[nodiscard]] Ran run(const std::string& words, const std::string& before = "") const
  {
    const std::string command = "cd '" + path.string() + "' && " + before +
                                " '" HANGTRUE_PROGRAM "' " + words + " > out.txt 2> err.txt";
    const int status = std::system(command.c_str());
    return {WEXITSTATUS(status), read(path / "out.txt"), read(path / "err.txt")};
  }
  void write(const std::string& name, const std::string& text) const
  {
    std::ofstream(path / name) << text;
  }
};

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

BOOST_AUTO_TEST_CASE(help_version_and_wrong_words)
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

BOOST_AUTO_TEST_CASE(a_new_file_is_made_once)
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
    // A single level tells nothing about its error, so the drop is close at best: still status 0.
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
  // Texts from the file are made safe in the drawing.
  const std::string drawing = read(folder.path / "door-results" / "drop.svg");
  BOOST_TEST(drawing.find("Little &lt;door&gt; &amp; frame") != std::string::npos);
  for (const char* file : {"states.pvd", "door-open.vtu", "frame-open.vtu", "pin-1-open.vtu"})
    BOOST_TEST(fs::exists(folder.path / "door-results" / file), file);
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

BOOST_AUTO_TEST_CASE(results_of_others_are_left_alone)
{
  const Folder folder;
  folder.write("door.toml", small_door);
  fs::create_directories(folder.path / "theirs");
  folder.write("theirs/results.json", "{}");
  const Ran ran = folder.run("check door.toml --out theirs");
  BOOST_TEST(ran.status == 2);
  BOOST_TEST(ran.err.find("did not write") != std::string::npos);
  BOOST_TEST(read(folder.path / "theirs" / "results.json") == "{}");
  BOOST_TEST(folder.run("check door.toml --out door.toml").status == 2);
}

BOOST_AUTO_TEST_CASE(a_mesh_for_others)
{
  const Folder folder;
  folder.write("door.toml", small_door);
  const Ran ran = folder.run("mesh door.toml --level 1 --out mesh");
  BOOST_TEST(ran.status == 0);
  BOOST_TEST(ran.out.find("all hexahedra") != std::string::npos);
  for (const char* file : {"door.msh", "door-mesh.vtu", "frame-mesh.vtu", "pin-1-mesh.vtu"})
    BOOST_TEST(fs::exists(folder.path / "mesh" / file), file);
}

BOOST_AUTO_TEST_CASE(an_interrupt_ends_cleanly)
{
  const Folder folder;
  folder.write("door.toml", small_door);
  const Ran ran = folder.run("check door.toml --out results", "timeout -s INT 0.4");
  // 124 is the word of `timeout` that it had to send the signal.
  BOOST_TEST(ran.status == 124);
  BOOST_TEST(!fs::exists(folder.path / "results" / "results.json"));
}
