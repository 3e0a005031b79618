// SPDX-License-Identifier: GPL-3.0-or-later
// Values built into the program: grades of steel, insulation, the limit for a hand.
#define BOOST_TEST_MODULE handbook
#include <boost/test/unit_test.hpp>

#include "cases/input/door_file.hpp"
#include "cases/input/steel_grades.hpp"
#include "solver/material/insulation_properties.hpp"
#include "tests/support/book.hpp"
#include "tests/support/door_texts.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cctype>
#include <string>

using namespace hangtrue;
using namespace hangtrue::test;

namespace
{

constexpr double ksi = 6.894757293168361e6; // Pa

std::string as_id(std::string text)
{
  for (char& c : text)
    c = c == ' ' ? '-' : static_cast<char>(std::tolower(static_cast<unsigned char>(c)));
  return text;
}

} // namespace

// A36 36 and 58 ksi; A500 shaped, B 46 and 58, C 50 and 62; S235, S355 by EN 1993-1-1; 1018 from
// memory, strengths of cold drawn bar vary with size.
BOOST_AUTO_TEST_CASE(grades_of_steel)
{
  const Source us{"Steel grades, US",
                  "ASTM A36 and A500 by a steel manual's table (secondary text); "
                  "1018 from memory; E 29 000 ksi, 490 lb/ft^3."};
  struct Row {
    const char* grade;
    double yield;
  };
  for (const Row& row : {Row{"A36", 36.0}, Row{"A500 B", 46.0}, Row{"A500 C", 50.0},
                         Row{"1018 hot rolled", 32.0}, Row{"1018 cold drawn", 54.0}})
    check_row(us, {"yield-" + as_id(row.grade), std::string(row.grade) + ": yield", "ksi"},
              within(row.yield, 1e-6, "a minimum by the standard"),
              input::steel_grade(row.grade).yield / ksi);
  for (const Row& row : {Row{"A36", 58.0}, Row{"A500 B", 58.0}, Row{"A500 C", 62.0}})
    check_row(us, {"ultimate-" + as_id(row.grade), std::string(row.grade) + ": ultimate", "ksi"},
              within(row.yield, 1e-6, "a minimum by the standard"),
              input::steel_grade(row.grade).ultimate / ksi);
  check_row(us, {"modulus-us", "Young's modulus", "ksi"}, within(29000.0, 1e-6, "by the manual"),
            input::steel_grade("A36").youngs_modulus / ksi);
  const Source en{"Steel grades, EN", "EN 1993-1-1:2005, table 3.1 and 3.2.6 (from memory)."};
  for (const Row& row : {Row{"S235", 235.0}, Row{"S355", 355.0}})
    check_row(en, {"yield-" + as_id(row.grade), std::string(row.grade) + ": yield", "MPa"},
              within(row.yield, 1e-9, "a minimum by the standard"),
              input::steel_grade(row.grade).yield / 1e6);
  check_row(en, {"modulus-en", "Young's modulus", "GPa"}, within(210.0, 1e-9, "by the standard"),
            input::steel_grade("S235").youngs_modulus / 1e9);
}

BOOST_AUTO_TEST_CASE(insulation)
{
  const Source tiasa{"TIASA",
                     "TIASA Thermal Insulation Handbook, South Africa, April 2001, generic "
                     "values for feasibility."};
  struct Row {
    const char* kind;
    double t;
    double k;
  };
  for (const Row& row : {Row{"mineral wool", 10.0, .033}, Row{"mineral wool", 50.0, .037},
                         Row{"mineral wool", 200.0, .064}, Row{"calcium silicate", 100.0, .054},
                         Row{"calcium silicate", 200.0, .063}, Row{"calcium silicate", 300.0, .074},
                         Row{"calcium silicate", 350.0, .082}})
    check_row(tiasa,
              {fmt::format("k-{}-{:.0f}", as_id(row.kind), row.t),
               fmt::format("{} at a mean of {:.0f} degC", row.kind, row.t), "W/(m K)"},
              within(row.k, 1e-9, "a row of the table"),
              material::conductivity_of(material::insulation_table(row.kind), row.t));
  const Source makers{"Ceramic fibre",
                      "Typical maker values for blanket of 128 kg/m^3 (from memory, "
                      "no product); the TIASA handbook prints 0.060 at 300, 0.12 at "
                      "600, 0.18 at 800, 0.28 at 1000 degC."};
  for (const auto& [t, least, most] :
       {std::tuple{300.0, .060, .10}, {600.0, .12, .15}, {800.0, .18, .21}, {1000.0, .26, .29}})
    check_row(makers,
              {fmt::format("k-ceramic-fibre-{:.0f}", t),
               fmt::format("ceramic fibre at a mean of {:.0f} degC", t), "W/(m K)"},
              between(least, most, "from the handbook's to the makers' values"),
              material::conductivity_of(material::insulation_table("ceramic fibre"), t));
}

// Bare metal under a hand for 5 s: 60 degC (140 degF) of ASTM C1055 (secondary text). ISO 13732-1
// has 55 to 60 degC for 10 s and 65 to 70 for 1 s (from memory).
BOOST_AUTO_TEST_CASE(limit_for_a_hand)
{
  const Source astm{"Touch",
                    "ASTM C1055, working limit for metal, 5 s (secondary text); ISO 13732-1, "
                    "55 to 60 degC for 10 s, 65 to 70 for 1 s (from memory)."};
  check_row(astm, {"touch-limit", "limit of the outside when the file gives none", "degC"},
            within(60.0, 1e-9, "140 degF"),
            input::read_door_text(good, "door.toml").limits.touch.value);
}
