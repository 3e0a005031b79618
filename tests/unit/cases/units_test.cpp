// SPDX-License-Identifier: GPL-3.0-or-later
// Numbers with units in the writing of the trade.
#define BOOST_TEST_MODULE units
#include <boost/test/unit_test.hpp>

#include "cases/input/units.hpp"
#include "meshing/common/errors.hpp"

#include <cmath>
#include <numbers>
#include <string>

using namespace hangtrue;

namespace
{

bool near(double a, double b)
{
  return std::abs(a - b) <= 1e-12 * std::max(std::abs(a), std::abs(b));
}

std::string refusal(const std::string& text, input::Dimension kind)
{
  try {
    input::parse_quantity(text, kind);
  } catch (const InputError& error) {
    return error.what();
  }
  return "";
}

bool refused(const std::string& text, input::Dimension kind, const std::string& why)
{
  const std::string message = refusal(text, kind);
  return message.find(why) != std::string::npos &&
         message.find("allowed is") != std::string::npos &&
         message.find("write for example") != std::string::npos;
}

} // namespace

BOOST_AUTO_TEST_CASE(lengths)
{
  BOOST_TEST(near(input::parse_quantity("1-1/2 in", input::Dimension::length), 0.0381));
  BOOST_TEST(near(input::parse_quantity("1 1/2 in", input::Dimension::length), 0.0381));
  BOOST_TEST(near(input::parse_quantity("3/4 in", input::Dimension::length), 0.01905));
  BOOST_TEST(near(input::parse_quantity("0.75in", input::Dimension::length), 0.01905));
  BOOST_TEST(near(input::parse_quantity("2 ft 6 in", input::Dimension::length), 0.762));
  BOOST_TEST(near(input::parse_quantity("2' 6-1/2\"", input::Dimension::length), 0.7747));
  BOOST_TEST(near(input::parse_quantity("38 mm", input::Dimension::length), 0.038));
  BOOST_TEST(near(input::parse_quantity("  3.8 cm ", input::Dimension::length), 0.038));
  BOOST_TEST(near(input::parse_quantity("1.5e-3 m", input::Dimension::length), 0.0015));
  BOOST_TEST(near(input::parse_quantity("-1/8 in", input::Dimension::length), -0.003175));
}

// Exact definitions: 1 lbf = 4.4482216152605 N, 1 lb = 0.45359237 kg, 1 in = 25.4 mm (NIST SP 811).
BOOST_AUTO_TEST_CASE(other_kinds)
{
  BOOST_TEST(
      near(input::parse_quantity("150 lbf", input::Dimension::force), 150.0 * 4.4482216152605));
  BOOST_TEST(near(input::parse_quantity("2 kN", input::Dimension::force), 2000.0));
  BOOST_TEST(
      near(input::parse_quantity("650 degF", input::Dimension::temperature), (650.0 - 32.0) / 1.8));
  BOOST_TEST(near(input::parse_quantity("343 degC", input::Dimension::temperature), 343.0));
  BOOST_TEST(std::abs(input::parse_quantity("490 lb/ft^3", input::Dimension::density) - 7849.047) <
             1e-3);
  BOOST_TEST(near(input::parse_quantity("8 lb/ft^3", input::Dimension::density),
                  8.0 * 0.45359237 / (0.3048 * 0.3048 * 0.3048)));
  BOOST_TEST(near(input::parse_quantity("128 kg/m^3", input::Dimension::density), 128.0));
  BOOST_TEST(std::abs(input::parse_quantity("36 ksi", input::Dimension::stress) - 248.2112625e6) <
             10.0);
  BOOST_TEST(
      near(input::parse_quantity("90 deg", input::Dimension::angle), 0.5 * std::numbers::pi));
  BOOST_TEST(near(input::parse_quantity("1.5 h", input::Dimension::time), 5400.0));
  BOOST_TEST(near(input::parse_quantity("30 min", input::Dimension::time), 1800.0));
  BOOST_TEST(near(input::parse_quantity("25 W/m^2/K", input::Dimension::film), 25.0));
  // 1 Btu (International Table) is 1055.05585262 J by definition; 5.678263 is the usual table
  // value.
  BOOST_TEST(std::abs(input::parse_quantity("1 Btu/h/ft^2/F", input::Dimension::film) - 5.678263) <
             1e-6);
}

// "-1 cm 5 mm" was once read as -5 mm, "3 ft -6 in" as 30 in and "29-3/2 in" as 30.5 in, without a
// message.
BOOST_AUTO_TEST_CASE(one_sign_for_the_whole)
{
  BOOST_TEST(near(input::parse_quantity("-1 cm 5 mm", input::Dimension::length), -0.015));
  BOOST_TEST(
      near(input::parse_quantity("-2 ft 6-1/2 in", input::Dimension::length), -30.5 * 0.0254));
  BOOST_TEST(near(input::parse_quantity("+2 ft 6 in", input::Dimension::length), 30.0 * 0.0254));
  BOOST_TEST(near(input::parse_quantity("-10 degF", input::Dimension::temperature), -42.0 / 1.8));
  BOOST_TEST(near(input::parse_quantity("3/2 in", input::Dimension::length),
                  1.5 * 0.0254)); // no whole number first
  BOOST_TEST(near(input::parse_quantity("2 Btu in/h/ft^2/F", input::Dimension::conductivity),
                  input::parse_quantity("1 Btu/h/ft/F", input::Dimension::conductivity) / 6.0));
  for (const char* text : {"3 ft -6 in", "3 ft +6 in", "3'-6\"", "-3 ft -6 in", "1 -1/2 in"})
    BOOST_TEST(refused(text, input::Dimension::length, "a sign stands inside it"), text);
  for (const char* text : {"29-3/2 in", "29 3/2 in", "1-2/2 in", "0-5/4 in"})
    BOOST_TEST(refused(text, input::Dimension::length, "not less than 1"), text);
  BOOST_TEST(refused("1.5-1/2 in", input::Dimension::length, "not whole"));
  BOOST_TEST(refused("2 ft 14 in", input::Dimension::length, "14 in are 1 ft or more"));
  BOOST_TEST(refused("2 ft 12 in", input::Dimension::length, "12 in are 1 ft or more"));
  BOOST_TEST(refused("1 m 100 cm", input::Dimension::length, "100 cm are 1 m or more"));
}

BOOST_AUTO_TEST_CASE(refusals)
{
  BOOST_TEST(refused("12", input::Dimension::length, "unit is missing"));
  BOOST_TEST(refused("12 lbf", input::Dimension::length, "unit of a force"));
  BOOST_TEST(refused("12 furlong", input::Dimension::length, "no unit that is known"));
  BOOST_TEST(refused("12 in 3 lbf", input::Dimension::length, "unit of a force"));
  BOOST_TEST(refused("12 lbf 3 lbf", input::Dimension::force, "after the unit"));
  BOOST_TEST(refused("6 in 2 ft", input::Dimension::length, "after the unit"));
  BOOST_TEST(refused("1/0 in", input::Dimension::length, "zero below"));
  BOOST_TEST(refused("1-1/0 in", input::Dimension::length, "zero below"));
  BOOST_TEST(refused("1/ in", input::Dimension::length, "nothing below"));
  BOOST_TEST(refused("", input::Dimension::length, "empty"));
  BOOST_TEST(refused("nan in", input::Dimension::length, "no number"));
  BOOST_TEST(refused("inf in", input::Dimension::length, "no number"));
  BOOST_TEST(refused("1e999 in", input::Dimension::length, "too large"));
  BOOST_TEST(refused("1/1e999 in", input::Dimension::length, "too large"));
  BOOST_TEST(refused("1e308 ksi", input::Dimension::stress, "too large"));
  BOOST_TEST(refused("0/0 in", input::Dimension::length, "zero below"));
  BOOST_TEST(refused("in", input::Dimension::length, "no number"));
  BOOST_TEST(refused("12 in thick", input::Dimension::length, "no number"));
  BOOST_TEST(refused("12 inx", input::Dimension::length, "no unit that is known"));
  BOOST_TEST(refused("36 ksi", input::Dimension::density, "unit of a stress"));
  BOOST_TEST(refused("-", input::Dimension::length, "no number"));
}

// A file may contain anything: a message stays one short line without control characters.
BOOST_AUTO_TEST_CASE(texts_in_messages)
{
  BOOST_TEST(input::message_text("1-1/2 in") == "1-1/2 in");
  BOOST_TEST(input::message_text("\x1b[31m1\nin") == " [31m1 in");
  BOOST_TEST(input::clean_text("a\xc2\x9b"
                               "1m\x7f\xc2\xb0") == "a 1m \xc2\xb0");
  BOOST_TEST(input::message_text(std::string(61, '9')) == std::string(57, '9') + "...");
  // Two-byte characters: 57 bytes hold them whole behind one byte, 56 behind two.
  std::string accents = "1";
  for (int i = 0; i < 40; ++i)
    accents += "\xc3\xa9";
  BOOST_TEST(input::message_text(accents).size() == 60U);
  BOOST_TEST(input::message_text("1" + accents).size() == 59U);
  BOOST_TEST(refusal(std::string(5000, '9') + " in", input::Dimension::length).size() < 300U);
  BOOST_TEST(refusal("9 " + std::string(5000, 'x'), input::Dimension::length).size() < 300U);
}

BOOST_AUTO_TEST_CASE(as_a_tape_reads_it)
{
  BOOST_TEST(input::tape_fraction(0.0469 * 0.0254) == "3/64");
  BOOST_TEST(input::tape_fraction(1.5 * 0.0254) == "1-1/2");
  BOOST_TEST(input::tape_fraction(2.0 * 0.0254) == "2");
  BOOST_TEST(input::tape_fraction(-0.03125 * 0.0254) == "-1/32");
  BOOST_TEST(input::tape_fraction(1e-6) == "0");
  BOOST_TEST(input::tape_fraction(-1e-6) == "0");
  BOOST_TEST(input::tape_fraction((1.0 + 3.0 / 64.0) * 0.0254) == "1-3/64");
  // Nearest, up to the next whole inch: 63.6/64 reads as 1.
  BOOST_TEST(input::tape_fraction(63.6 / 64.0 * 0.0254) == "1");
  BOOST_TEST(input::format_quantity(0.0469 * 0.0254, input::Dimension::length,
                                    input::UnitSystem::us) == "0.0469 in (3/64)");
  BOOST_TEST(input::format_quantity(0.0067 * 0.0254, input::Dimension::length,
                                    input::UnitSystem::us) == "0.0067 in");
  BOOST_TEST(input::format_quantity(0.0012, input::Dimension::length, input::UnitSystem::si) ==
             "1.200 mm");
}
