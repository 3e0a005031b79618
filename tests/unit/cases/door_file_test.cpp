// SPDX-License-Identifier: GPL-3.0-or-later
// The door file: what is read, what is refused, and the messages.
#define BOOST_TEST_MODULE door_file
#include <boost/test/unit_test.hpp>

#include "cases/input/door_file.hpp"
#include "cases/input/starter_file.hpp"
#include "meshing/common/errors.hpp"
#include "tests/support/door_texts.hpp"

#include <algorithm>
#include <cmath>
#include <filesystem>
#include <fstream>
#include <string>
#include <unistd.h>
#include <vector>

using namespace hangtrue;
using namespace hangtrue::test;
namespace fs = std::filesystem;

namespace
{

std::string message_of_file(const std::string& path)
{
  try {
    input::read_door_file(path);
  } catch (const InputError& error) {
    return error.what();
  }
  return "";
}

// Every number of a door that those texts can change.
std::vector<double> numbers_of(const input::DoorCase& c)
{
  const door::Door& d = c.door;
  std::vector<double> all{d.swing,
                          d.reveal,
                          d.temperature,
                          d.panel.width,
                          d.panel.height,
                          d.panel.outer_skin,
                          d.panel.inner_skin,
                          d.rim.width,
                          d.rim.depth,
                          d.rim.wall,
                          d.jamb.thickness,
                          d.jamb.free_width,
                          d.jamb.flange_depth,
                          d.handle.position,
                          d.handle.breadth,
                          c.limits.drop.value};
  for (const auto& s : d.stiffeners)
    all.insert(all.end(), {s.position, s.width, s.wall});
  for (const auto& h : d.hinges) {
    all.insert(all.end(), {h.position, h.leaf.length, h.leaf.width, h.leaf.thickness,
                           h.leaf.standoff, h.knuckle_gap, h.outside_diameter, h.pin_diameter,
                           h.clearance, h.end_float, h.weld_leg});
    for (const auto& k : h.knuckles)
      all.push_back(k.length);
  }
  return all;
}

// Runs as a user whom permissions bind, where the process may become one, and goes back.
class PlainUser
{
public:
  PlainUser() : before_(geteuid())
  {
    if (before_ == 0 && seteuid(65534) != 0)
      BOOST_TEST_MESSAGE("the superuser cannot step down here");
  }
  ~PlainUser() { BOOST_WARN(geteuid() == before_ || seteuid(before_) == 0); }
  PlainUser(const PlainUser&) = delete;
  PlainUser& operator=(const PlainUser&) = delete;

private:
  uid_t before_;
};

struct Folder {
  fs::path path = fs::temp_directory_path() / ("hangtrue-door-file-" + std::to_string(getpid()));
  Folder() { fs::create_directories(path); }
  ~Folder() { fs::remove_all(path); }
  Folder(const Folder&) = delete;
  Folder& operator=(const Folder&) = delete;
};

} // namespace

BOOST_AUTO_TEST_CASE(a_good_file)
{
  const input::DoorCase c = input::read_door_text(good, "door.toml");
  BOOST_TEST(std::abs(c.door.panel.width - 0.762) < 1e-12);
  BOOST_TEST(c.door.hinges.size() == 2U);
  BOOST_TEST(std::abs(c.door.hinges[0].clearance - 0.018 * 0.0254) < 1e-12);
  // One hinge carries, the lowest, since the file does not say.
  BOOST_TEST(c.door.hinges[0].carries_weight);
  BOOST_TEST(!c.door.hinges[1].carries_weight);
  BOOST_TEST(c.limits.drop.origin == "common practice, no source");
  BOOST_TEST(c.echo.size() > 60U);
}

BOOST_AUTO_TEST_CASE(starter_and_reference)
{
  const input::DoorCase c = input::read_door_text(input::starter_text(), "starter.toml");
  BOOST_TEST(c.door.hinges.size() == 2U);
  std::ifstream file(fs::path(HANGTRUE_SOURCE_DIR) / "docs" / "door-file.md");
  const std::string cache{std::istreambuf_iterator<char>(file), {}};
  BOOST_TEST((cache == input::door_file_reference()),
             "docs/door-file.md is out of date: hangtrue keys > docs/door-file.md");
}

BOOST_AUTO_TEST_CASE(demo_doors_read)
{
  int count = 0;
  for (const auto& entry :
       fs::directory_iterator(fs::path(HANGTRUE_SOURCE_DIR) / "cases" / "examples")) {
    if (entry.path().extension() != ".toml")
      continue;
    input::read_door_file(entry.path().string());
    ++count;
  }
  BOOST_TEST(count == 5);
}

// Every length key that the two texts below give, in inches and in millimetres by hand.
BOOST_AUTO_TEST_CASE(inches_and_millimetres_make_one_door)
{
  const std::string keys = R"([door]
width = "%2 ft 6 in|762 mm%"
height = "%3' 1/2\"|927.1 mm%"
reveal = "%3/16 in|4.7625 mm%"
swing = "%90 deg|1.5707963267948966 rad%"
temperature = "%212 degF|100 degC%"
[skins]
outer = "%1/4 in|6.35 mm%"
inner = "%0.1875 in|0.47625 cm%"
[rim]
width = "%1-1/2 in|38.1 mm%"
depth = "%2 in|0.0508 m%"
wall = "%1/8 in|3.175 mm%"
[[stiffener]]
at = "%15 in|381 mm%"
width = "%3/8 in|9.525 mm%"
[[hinge]]
at = "%5 in|127 mm%"
leaf_length = "%4-3/4 in|120.65 mm%"
leaf_width = "%1 7/8 in|47.625 mm%"
leaf_thickness = "%5/16 in|7.9375 mm%"
standoff = "%2-1/8 in|53.975 mm%"
knuckle_length = ["%1-1/2 in|38.1 mm%", "%1-3/8 in|34.925 mm%", "%1-1/4 in|31.75 mm%"]
knuckle_gap = "%1/16 in|1.5875 mm%"
outside_diameter = "%1-5/8 in|41.275 mm%"
pin_diameter = "%7/8 in|22.225 mm%"
clearance = "%1/64 in|0.396875 mm%"
end_float = "%1/16 in|1.5875 mm%"
weld_leg = "%3/16 in|4.7625 mm%"
[jamb]
thickness = "%3/8 in|9.525 mm%"
free_width = "%3-1/2 in|88.9 mm%"
flange_depth = "%1-3/4 in|44.45 mm%"
[handle]
at = "%18 in|457.2 mm%"
breadth = "%6 in|152.4 mm%"
[limits]
drop = "%3/64 in|1.190625 mm%"
)";
  // The first or the second of every "%us|metric%".
  auto written = [&keys](bool metric) {
    std::string result;
    bool inside = false;
    bool second = false;
    for (const char c : keys) {
      if (c == '%')
        inside = !inside, second = false;
      else if (inside && c == '|')
        second = true;
      else if (!inside || second == metric)
        result += c;
    }
    return result;
  };
  const input::DoorCase us = input::read_door_text(written(false), "us");
  const input::DoorCase si = input::read_door_text(written(true), "si");
  const auto a = numbers_of(us);
  const auto b = numbers_of(si);
  BOOST_REQUIRE(a.size() == b.size());
  for (std::size_t i = 0; i < a.size(); ++i)
    BOOST_TEST(std::abs(a[i] - b[i]) <= 1e-12 * std::max(1.0, std::abs(a[i])), "number " << i);
  // One of them against the definition of the inch, so that both are not wrong in the same way.
  BOOST_TEST(std::abs(us.door.panel.height - 36.5 * 0.0254) < 1e-12);
}

BOOST_AUTO_TEST_CASE(missing_and_wrong_units)
{
  check_message(message_of(with("width = \"30 in\"", "width = 30")),
                {"door.toml:2:9: door.width", "found 30", "unit is missing", "in quotes"});
  check_message(message_of(with("width = \"30 in\"", "width = \"30\"")),
                {"door.toml:2:9: door.width", "\"30\"", "unit is missing", "write for example"});
  check_message(
      message_of(with("width = \"30 in\"", "width = \"30 lbf\"")),
      {"door.toml:2:9: door.width", "\"30 lbf\"", "unit of a force", "write for example"});
}

BOOST_AUTO_TEST_CASE(sizes_out_of_range)
{
  check_message(message_of(with("width = \"30 in\"", "width = \"-30 in\"")),
                {"door.toml:2:9: door.width", "\"-30 in\"", "write a value in that range"});
  check_message(message_of(with("width = \"30 in\"", "width = \"0 in\"")),
                {"door.toml:2:9: door.width", "\"0 in\"", "write a value in that range"});
  check_message(message_of(with("width = \"30 in\"", "width = \"nan in\"")),
                {"door.toml:2:9: door.width", "\"nan in\"", "no number"});
  check_message(message_of(with("width = \"30 in\"", "width = nan")),
                {"door.toml:2:9: door.width", "found nan", "unit is missing"});
  check_message(message_of(good + "[accuracy]\ntolerance = nan\n"),
                {"door.toml:13:13: accuracy.tolerance", "found nan", "plain number"});
}

BOOST_AUTO_TEST_CASE(pin_and_bore)
{
  check_message(message_of(with("clearance = \"drilled\"", "clearance = \"-0.01 in\"")),
                {"door.toml:9:13: hinge[0].clearance", "\"-0.01 in\"", "does not go into its bore",
                 "write how the bore is made (reamed, drilled"});
  check_message(
      message_of(with("pin_diameter = \"1 in\"", "pin_diameter = \"1-1/2 in\"")),
      {"hinge[0].outside_diameter", "found 1.5000 in (default)", "leaves no wall", "smaller pin"});
  check_message(message_of(with("clearance = \"drilled\"", "clearance = \"driled\"")),
                {"door.toml:9:13: hinge[0].clearance", "\"driled\"", "write \"drilled\""});
}

BOOST_AUTO_TEST_CASE(knuckles_and_hinges_that_do_not_fit)
{
  check_message(
      message_of(with("at = \"5 in\"", "at = \"5 in\"\nknuckle_length = \"2 in\"")),
      {"hinge[0].leaf_length", "found 4.5000 in (default)", "do not fit on the leaf", "longer"});
  check_message(
      message_of(with("at = \"5 in\"", "at = \"5 in\"\nknuckle_length = [\"1 in\", \"2 in\"]")),
      {"door.toml:8:18: hinge[0].knuckle_length", "found 2 lengths", "one for all or 3"});
  check_message(message_of(with("at = \"5 in\"", "at = \"5 in\"\nknuckle_gap = \"-1/8 in\"")),
                {"door.toml:8:15: hinge[0].knuckle_gap", "\"-1/8 in\"", "in that range"});
  check_message(message_of(with("at = \"5 in\"", "at = \"5 in\"\nknuckle_length = []")),
                {"door.toml:8:18: hinge[0].knuckle_length", "an empty list", "one for each"});
  check_message(
      message_of(with("at = \"25 in\"", "at = \"29 in\"")),
      {"door.toml:11:6: hinge[1].at", "found 29.0000 in:", "over the end of the door", "move"});
  check_message(message_of(with("at = \"25 in\"", "at = \"8 in\"")),
                {"door.toml:11:6: hinge[1].at", "runs into hinge[0]", "move one of them"});
  check_message(message_of(with("at = \"25 in\"", "at = \"25 in\"\nstandoff = \"2.5 in\"")),
                {"door.toml:12:12: hinge[1].standoff", "one axis", "same standoff"});
  check_message(message_of("[door]\nwidth = \"30 in\"\nheight = \"30 in\"\n"),
                {"hinge", "found 0", "one to four"});
}

BOOST_AUTO_TEST_CASE(rim_taller_than_the_door)
{
  check_message(message_of(with("height = \"30 in\"\n[rim]\nwidth = \"1-1/2 in\"",
                                "height = \"5 in\"\n[rim]\nwidth = \"6 in\"")),
                {"door.toml:5:9: rim.width", "found 6.0000 in", "does not leave room", "tube"});
}

BOOST_AUTO_TEST_CASE(fire)
{
  auto fired = [](const std::string& schedule) {
    return good + "[fire]\nschedule = " + schedule + "\n";
  };
  const input::DoorCase c = input::read_door_text(
      fired(R"([["0 min", "68 degF"], ["30 min", "212 degF"], ["4 h", "212 degF"]])"), "door.toml");
  BOOST_REQUIRE(c.door.fire.schedule.size() == 3U);
  BOOST_TEST(std::abs(c.door.fire.schedule[1].time - 1800.0) < 1e-9);
  BOOST_TEST(std::abs(c.door.fire.schedule[1].gas - 100.0) < 1e-9);
  check_message(message_of(fired(R"([["0 min", "68 degF"]])")),
                {"door.toml:13:12: fire.schedule", "at least two pairs", "write pairs"});
  check_message(message_of(fired(R"([[0, 68], [30, 212]])")),
                {"door.toml:13:12: fire.schedule", "found [ 0, 68 ]", "in quotes", "write pairs"});
  check_message(message_of(fired(R"([["4 h", "68 degF"], ["30 min", "212 degF"]])")),
                {"door.toml:13:12: fire.schedule", "\"30 min\" after", "time runs backwards",
                 "put the pairs in order"});
  check_message(message_of(fired(R"([["-5 min", "68 degF"], ["30 min", "212 degF"]])")),
                {"door.toml:13:12: fire.schedule", "found -300", "s: times of a firing rise"});
  check_message(message_of(fired(R"([["0 min", "68 degF"], ["30 in", "212 degF"]])")),
                {"door.toml:13:12: fire.schedule", "\"30 in\"", "unit of a length"});
  check_message(message_of(fired(R"([["0 min", "68 degF"], ["30 min", "nan degF"]])")),
                {"door.toml:13:12: fire.schedule", "\"nan degF\"", "no number"});
  check_message(message_of(fired(R"([["0 min", "68 degF"], ["30 min", "9999 degF"]])")),
                {"door.toml:13:12: fire.schedule", "\"9999 degF\"", "in that range"});
}

BOOST_AUTO_TEST_CASE(unknown_keys)
{
  check_message(message_of(with("pin_diameter", "pin_diametre")),
                {"door.toml:8:1: hinge[0].pin_diametre", "nobody knows this key",
                 "\"pin_diameter\"", "rename it"});
  check_message(message_of(good + "[limts]\ndrop = \"1 in\"\n"),
                {"door.toml:12", "limts", "nobody knows this key", "[limits]"});
  check_message(message_of(with("[[hinge]]\nat = \"5 in\"\npin_diameter",
                                "[hinge]\nat = \"5 in\"\npin_diameter")),
                {"door.toml:10:", "the file", "redefine", "take one of the two out", "[[hinge]]"});
  check_message(message_of(with("at = \"5 in\"", "at = \"5 in\"\nat = \"6 in\"")),
                {"door.toml:8:", "the file", "redefine", "take one of the two out"});
  check_message(message_of(good + "[handle]\nforce = \"10 lbf\"\nat = \"40 in\"\n"),
                {"door.toml:14:6: handle.at", "not on the door", "height above"});
}

BOOST_AUTO_TEST_CASE(all_faults_at_once)
{
  const std::string message =
      message_of(with("width = \"30 in\"", "width = 30\ncolour = \"red\"") + "[rimm]\n");
  check_message(message, {"door.width", "door.colour", "rimm"});
  BOOST_TEST(std::count(message.begin(), message.end(), '\n') == 2, message);
}

// Whatever a file contains, a fault is one line of a sensible length.
BOOST_AUTO_TEST_CASE(long_and_odd_texts)
{
  for (const std::string& text :
       {with("width = \"30 in\"", "width = \"" + std::string(5000, '9') + " in\""),
        with("width = \"30 in\"", "width = [\"" + std::string(5000, 'x') + "\"]"),
        with("clearance = \"drilled\"", "clearance = \"" + std::string(5000, 'x') + "\""),
        with("width = \"30 in\"", "width = \"30 in\"\nunits = \"\\u001b[31m\\n\""),
        good + "[fire]\nschedule = [[\"0 h\", \"9 degF\"], [\"1 h\", \"" + std::string(5000, '0') +
            "9999 degF\"]]\n",
        good + "[" + std::string(5000, 'x') + "]\n"}) {
    const std::string message = message_of(text);
    check_message(message, {"door.toml:"});
    BOOST_TEST(message.size() < 600U);
    BOOST_TEST(message.find_first_of("\n\x1b") == std::string::npos, message);
  }
}

BOOST_AUTO_TEST_CASE(texts_that_are_no_toml)
{
  check_message(message_of("[door\nwidth = 3\n"),
                {"door.toml:1:", "the file", "look for a missing"});
  check_message(message_of("[door]\nname = \"\xff\xfe\"\n"), {"door.toml:2:", "UTF-8", "save it"});
}

BOOST_AUTO_TEST_CASE(files_that_cannot_be_read)
{
  const Folder folder;
  check_message(message_of_file((folder.path / "none.toml").string()),
                {"none.toml", "no such file", "check the name"});
  check_message(message_of_file(folder.path.string()), {"it is a folder", "inside it"});
  const fs::path big = folder.path / "big.toml";
  std::ofstream(big).put('#');
  fs::resize_file(big, 40U << 20U);
  check_message(message_of_file(big.string()), {"41943040 bytes", "name a door file"});
  check_message(message_of_file("/dev/null"), {"not an ordinary file"});
}

BOOST_AUTO_TEST_CASE(files_that_may_not_be_read)
{
  const Folder folder;
  const fs::path closed = folder.path / "closed.toml";
  std::ofstream(closed) << good;
  fs::permissions(closed, fs::perms::none);
  const fs::path shut = folder.path / "shut";
  fs::create_directory(shut);
  std::ofstream(shut / "door.toml") << good;
  fs::permissions(shut, fs::perms::none);
  {
    const PlainUser user;
    if (geteuid() == 0)
      BOOST_TEST_MESSAGE("skipped: the superuser reads any file");
    else {
      check_message(message_of_file(closed.string()), {"may not be read", "permission"});
      check_message(message_of_file((shut / "door.toml").string()),
                    {"cannot be reached", "permission"});
    }
  }
  fs::permissions(shut, fs::perms::owner_all);
}

// Found by the fuzzer: the reader's message on a broken line contained the file's control
// characters, an escape sequence among them, and reached the user's terminal.
BOOST_AUTO_TEST_CASE(broken_lines_do_not_reach_the_terminal_raw)
{
  for (const char* line : {"[jamb]\nthickness =t\x1b\x08\n", "a = tru\x1b[2J\n", "\x1b]0;x\x07"}) {
    const std::string message = message_of(line);
    BOOST_TEST(message.find("allowed is a TOML text") != std::string::npos, message);
    BOOST_TEST(std::none_of(message.begin(), message.end(), [](char c) {
      return c != '\n' && static_cast<unsigned char>(c) < 0x20;
    }));
  }
}
