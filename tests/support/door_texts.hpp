// SPDX-License-Identifier: GPL-3.0-or-later
// Door files for tests, and what the reader says to them.
#pragma once

#include <boost/test/unit_test.hpp>

#include "cases/input/door_file.hpp"
#include "meshing/common/errors.hpp"

#include <boost/algorithm/string/replace.hpp>

#include <string>
#include <vector>

namespace hangtrue::test
{

/// A door file that reads, to be changed.
inline const std::string good = R"([door]
width = "30 in"
height = "30 in"
[rim]
width = "1-1/2 in"
[[hinge]]
at = "5 in"
pin_diameter = "1 in"
clearance = "drilled"
[[hinge]]
at = "25 in"
)";

/// The good file with its first `from` changed.
inline std::string with(const std::string& from, const std::string& to)
{
  BOOST_REQUIRE(good.find(from) != std::string::npos);
  return boost::replace_first_copy(good, from, to);
}

/// What the reader says to a text; empty when it reads.
inline std::string message_of(const std::string& text)
{
  try {
    input::read_door_text(text, "door.toml");
  } catch (const InputError& error) {
    return error.what();
  }
  return "";
}

/// Every part of a good message is there.
inline void check_message(const std::string& message, const std::vector<std::string>& pieces)
{
  BOOST_TEST_CONTEXT(message)
  {
    for (const auto& piece : pieces)
      BOOST_TEST(message.find(piece) != std::string::npos, "missing: " << piece);
    BOOST_TEST(message.find("allowed") != std::string::npos);
  }
}

} // namespace hangtrue::test
