// SPDX-License-Identifier: GPL-3.0-or-later
// The door file, bounded: counts first, few faults said, nothing deep, texts clean and short.
#include <boost/test/unit_test.hpp>

#include "cases/input/clean_text.hpp"
#include "cases/input/door_file.hpp"
#include "cases/input/door_file_reader.hpp"
#include "cases/input/door_schema.hpp"
#include "cases/input/toml_limits.hpp"
#include "meshing/common/errors.hpp"
#include "tests/support/door_texts.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <string>
#include <vector>

using namespace hangtrue;
using namespace hangtrue::test;

namespace
{

std::string repeated(const std::string& text, int times)
{
  std::string all;
  for (int i = 0; i < times; ++i)
    all += text;
  return all;
}

long lines_in(const std::string& message)
{
  return std::count(message.begin(), message.end(), '\n') + 1;
}

} // namespace

// 1,000 hinges were compared pair by pair before their number was refused: 499,504 lines in 54 s.
BOOST_AUTO_TEST_CASE(parts_are_counted_before_they_are_compared)
{
  for (const int count : {5, 1000, 30000}) {
    const std::string message = message_of(good + repeated("[[hinge]]\nat = \"5 in\"\n", count));
    check_message(message, {fmt::format("hinge: found {} hinges", count + 2), "up to 4", "take"});
    BOOST_TEST(lines_in(message) == 1);
  }
  check_message(message_of(good + repeated("[[stiffener]]\nat = \"15 in\"\n", 61)),
                {"stiffener: found 61 stiffeners", "up to 60", "take some out"});
  check_message(message_of(good + repeated("[[latch]]\nat = \"15 in\"\n", 7)),
                {"latch: found 7 latches", "up to 6", "take some out"});
}

// Whoever makes a door without a file is counted as well.
BOOST_AUTO_TEST_CASE(parts_of_a_built_door_are_counted_before_they_are_compared)
{
  door::Door door = input::read_door_text(good, "door.toml").door;
  door.hinges.assign(1000, door.hinges.front());
  const auto found = door::faults(door);
  BOOST_REQUIRE(found.size() == 1U);
  BOOST_TEST(found.front().key == "hinge");
  BOOST_TEST(found.front().found == 1000.0);
}

BOOST_AUTO_TEST_CASE(the_first_faults_are_listed_and_the_others_counted)
{
  std::string keys;
  for (int i = 0; i < 300; ++i)
    keys += fmt::format("k{:03} = 1\n", 299 - i); // not in the order of their names
  const std::string message = message_of(good + "[limits]\n" + keys);
  BOOST_TEST(lines_in(message) == 21);
  check_message(message, {"limits.k299", "limits.k280", "door.toml: and 280 more"});
  BOOST_TEST(message.find("k279") == std::string::npos);
  // Faults that show only when the door is put together are counted too: 59 stiffeners at one
  // place.
  const std::string together = message_of(good + repeated("[[stiffener]]\nat = \"15 in\"\n", 60));
  BOOST_TEST(lines_in(together) == 21);
  check_message(together, {"runs into stiffener[0]", "and 1750 more"}); // 60 x 59 / 2 less 20
}

// [a.a.a...] of 50,000 levels ended in a segmentation fault inside the parser.
BOOST_AUTO_TEST_CASE(deep_texts_do_not_reach_the_parser)
{
  const std::string chain = "a" + repeated(".a", 49999);
  for (const std::string& text :
       {"[" + chain + "]\n", "[[" + chain + "]]\n", chain + " = 1\n", "x = {" + chain + " = 1}\n",
        "x = " + repeated("[", 50000), "x = " + repeated("{a=", 50000),
        "x = [\"\"\"a\"\"\"\"\", " + repeated("[", 50000), "#\v x = " + repeated("[", 50000),
        "x = ['''a''''', \"\\\\\", '\\', " + repeated("[", 50000)}) {
    const std::string message = message_of(text);
    check_message(message, {"door.toml:1:", "the file", "allowed are up to 16"});
    BOOST_TEST(message.size() < 300U);
  }
  const std::string nested = repeated("[", 16) + repeated("]", 16);
  BOOST_TEST(!input::toml_trap("x = " + nested + "\ny = " + nested + "\n").has_value());
  BOOST_TEST(input::toml_trap("x = [" + nested + "]\n").has_value());
}

// The parser takes for granted that a header has a name; without one it ended in an assertion.
BOOST_AUTO_TEST_CASE(headers_without_a_name)
{
  for (const char* text : {"[= 1]\n", "[[=]]\n", "[\n", "x = 1\n [ .a]\n", "\xef\xbb\xbf[="})
    check_message(message_of(text), {"the file", "a header without a name"});
  BOOST_TEST(!input::toml_trap("x = [\n[\n1], [=\n").has_value()); // no header, within brackets
}

BOOST_AUTO_TEST_CASE(brackets_and_dots_of_texts_and_comments_do_not_count)
{
  const std::string deep = repeated("[", 100) + repeated(".", 20000);
  for (const std::string& text : {"x = \"" + deep + "\"\n", "x = '" + deep + "'\n",
                                  "# " + deep + "\n", "x = \"\"\"\n" + deep + "\n\"\" \"\"\"\n",
                                  "x = '''\n" + deep + "\n'''\n", "x = \"\\\"" + deep + "\"\n"})
    BOOST_TEST(!input::toml_trap(text).has_value());
  const auto trap = input::toml_trap("x = 1\n# [[\ny = " + repeated("[", 17));
  BOOST_REQUIRE(trap.has_value());
  BOOST_TEST(trap->line == 3);
  BOOST_TEST(trap->column == 21);
}

BOOST_AUTO_TEST_CASE(a_text_has_a_length)
{
  const auto named = [](const std::string& name) {
    return with("width", "name = \"" + name + "\"\nwidth");
  };
  const std::string longest = repeated("\xc3\xa4", 120); // two bytes each
  BOOST_TEST(input::read_door_text(named(longest), "door.toml").door.name == longest);
  check_message(message_of(named(longest + "x")),
                {"door.toml:2:8: door.name", "121 characters", "up to 120", "shorten"});
  check_message(
      message_of(with("width = \"30 in\"", "width = \"" + repeated("0", 118) + "30 in\"")),
      {"door.width", "123 characters", "up to 120"});
  check_message(
      message_of(good + "[fire]\nschedule = [" + repeated("[\"1 h\", \"9 degC\"],", 1001) + "]"),
      {"fire.schedule", "1001 entries", "up to 1000"});
  check_message(message_of(good + "#" + repeated("x", 1 << 20)),
                {"bytes", "up to 1024 KiB", "name a door file"});
}

// A name with control characters once wrote a false verdict to the terminal and broke drop.svg.
BOOST_AUTO_TEST_CASE(texts_are_cleaned)
{
  const auto read = [](const std::string& escaped) {
    const input::DoorCase c = input::read_door_text(
        with("width", "name = \"" + escaped + "\"\nshop = \"" + escaped + "\"\nwidth"),
        "door\x1b[2K\n.toml");
    BOOST_TEST(c.door.shop == c.door.name);
    BOOST_TEST(c.file == "door [2K .toml");
    for (const auto& line : c.echo)
      BOOST_TEST(input::clean_text(line.written) == line.written);
    return c.door.name;
  };
  BOOST_TEST(read("a\\u001b[2K\\r\\nholds") == "a [2K  holds");
  BOOST_TEST(read("a\\u0085\\u009b1m\\u007fb") == "a  1m b");
  BOOST_TEST(read("\\u202aa\\u202e\\u2066b\\u2069\\u200e\\u200f\\u061c") == " a  b    ");
  BOOST_TEST(read("a\\u2028b\\u2029c\\uFFFEd\\uFFFFe\\uFDD0f\\U0001FFFEg") == "a b c d e f g");
  BOOST_TEST(read("T\\u00fcr \\u7159\\U0001F525 \xc3\xa4") ==
             "T\xc3\xbcr \xe7\x85\x99\xf0\x9f\x94\xa5 \xc3\xa4");
  check_message(message_of(good + "\"\\u001b[31m\\u202ekey\" = 1\n"), {"hinge[1]. [31m key"});
}

BOOST_AUTO_TEST_CASE(bytes_that_are_no_text)
{
  const std::string mark = "\xef\xbf\xbd"; // U+FFFD
  BOOST_TEST(input::clean_text("a\xff\xc3(") == "a" + mark + mark + "(");
  BOOST_TEST(input::clean_text("\xed\xa0\x80") == mark + mark + mark); // U+D800
  BOOST_TEST(input::clean_text("\xc0\xaf") == mark + mark);            // a slash, too long
  BOOST_TEST(input::clean_text("\xf4\x90\x80\x80") == mark + mark + mark + mark); // beyond U+10FFFF
  BOOST_TEST(input::clean_text("\xe2\x80") == mark + mark);
  BOOST_TEST(input::clean_lines("a\nb\r\tc") == "a\nb  c");
  BOOST_TEST(input::character_count("\xc3\xa4"
                                    "b") == 2U);
}

// "0 min" was refused as "allowed is 0 min to ...": what is shown as allowed is allowed.
BOOST_AUTO_TEST_CASE(bounds_as_shown_are_allowed)
{
  const std::string fire =
      "[fire]\nschedule = [[\"0 min\", \"68 degF\"], [\"30 min\", \"212 degF\"]]\n";
  check_message(message_of(good + fire + "instants = [\"0 min\"]\n"),
                {"fire.instants", "\"0 min\"", "allowed is 1 s to"});
  int bounds = 0;
  for (const auto& key : input::door_keys())
    for (const input::UnitSystem units : {input::UnitSystem::us, input::UnitSystem::si}) {
      const bool measured =
          key.value != input::ValueKind::text && key.value != input::ValueKind::word &&
          key.value != input::ValueKind::flag && key.value != input::ValueKind::number &&
          key.value != input::ValueKind::count;
      if (!measured)
        continue;
      const std::string range = input::range_text(key, units);
      const auto to = range.find(" to ");
      for (const std::string& bound : {range.substr(0, to), range.substr(to + 4)}) {
        const double value = input::parse_quantity(bound, key.kind);
        const double slack = 1e-12 * std::max(std::abs(key.minimum), std::abs(key.maximum));
        BOOST_TEST(value >= key.minimum - slack, key.section << "." << key.name << ": " << bound);
        BOOST_TEST(value <= key.maximum + slack, key.section << "." << key.name << ": " << bound);
        ++bounds;
      }
    }
  BOOST_TEST(bounds > 200);
}

// Every unit that the reference lists can be read; one with a blank in it could not.
BOOST_AUTO_TEST_CASE(every_listed_unit_reads)
{
  for (const auto& key : input::door_keys()) {
    std::string units = input::allowed_units(key.kind);
    for (const std::string& between : {std::string(" or "), std::string(", ")})
      for (std::size_t index = 0; (index = units.find(between, index)) != std::string::npos;)
        units = fmt::format("{}|{}", units.substr(0, index), units.substr(index + between.size()));
    for (std::size_t from = 0; from < units.size();) {
      const std::size_t to = std::min(units.find('|', from), units.size());
      BOOST_CHECK_NO_THROW(
          input::parse_quantity(fmt::format("1 {}", units.substr(from, to - from)), key.kind));
      from = to + 1;
    }
  }
  BOOST_TEST(input::last_unit("2 ft 6-1/2 in", input::Dimension::length) == "in");
  BOOST_TEST(input::last_unit("0.9 /lb", input::Dimension::price) == "/lb");
}
