// SPDX-License-Identifier: GPL-3.0-or-later
// Properties of the unit parser over many values and texts.
#define BOOST_TEST_MODULE units_properties
#include <boost/test/unit_test.hpp>

#include "cases/input/units.hpp"
#include "meshing/common/errors.hpp"

#include <fmt/format.h>
#include <rapidcheck.h>

#include <cmath>
#include <string>
#include <vector>

using namespace hangtrue;

namespace
{

constexpr input::Dimension kinds[] = {input::Dimension::length,      input::Dimension::force,
                                      input::Dimension::temperature, input::Dimension::density,
                                      input::Dimension::stress,      input::Dimension::angle,
                                      input::Dimension::time,        input::Dimension::film};

} // namespace

BOOST_AUTO_TEST_CASE(what_is_written_reads_back)
{
  BOOST_TEST(rc::check([] {
    const double value = *rc::gen::map(rc::gen::inRange(-1000000000, 1000000000),
                                       [](int n) { return n * 1.2345678901e-5; });
    for (const input::Dimension kind : kinds)
      RC_ASSERT(input::parse_quantity(input::format_exact(value, kind), kind) == value);
  }));
}

BOOST_AUTO_TEST_CASE(inches_and_millimetres_agree)
{
  BOOST_TEST(rc::check([] {
    const int sixty_fourths = *rc::gen::inRange(1, 64 * 200);
    const double inches =
        input::parse_quantity(fmt::format("{}-{}/64 in", sixty_fourths / 64, sixty_fourths % 64),
                              input::Dimension::length);
    const double mm = input::parse_quantity(fmt::format("{} mm", 25.4 * sixty_fourths / 64.0),
                                            input::Dimension::length);
    RC_ASSERT(std::abs(inches - mm) <= 1e-12 * mm);
  }));
}

// The grammar: [sign] number unit {number unit}, the sign of the whole, a fraction below 1, parts
// with falling units, each less than one of the unit before. What obeys it reads as written, what
// breaks one of its rules is refused.
BOOST_AUTO_TEST_CASE(the_sign_belongs_to_the_whole)
{
  BOOST_TEST(rc::check([] {
    const int feet = *rc::gen::inRange(0, 20);
    const int inches = *rc::gen::inRange(0, 12);
    const int under = *rc::gen::elementOf(std::vector<int>{2, 4, 8, 16, 32, 64});
    const int over = *rc::gen::inRange(0, under);
    const std::string blank = *rc::gen::elementOf(std::vector<std::string>{"", " ", "  "});
    const std::string text = fmt::format("{} ft {}-{}/{}{}in", feet, inches, over, under, blank);
    const double whole = 0.0254 * (12.0 * feet + inches + static_cast<double>(over) / under);
    const double plain = input::parse_quantity(text, input::Dimension::length);
    RC_ASSERT(std::abs(plain - whole) <= 1e-12);
    RC_ASSERT(input::parse_quantity("+" + text, input::Dimension::length) == plain);
    RC_ASSERT(input::parse_quantity("-" + text, input::Dimension::length) == -plain);
  }));
}

BOOST_AUTO_TEST_CASE(what_breaks_a_rule_of_the_grammar_is_refused)
{
  BOOST_TEST(rc::check([] {
    const int a = *rc::gen::inRange(0, 50);
    const int under = *rc::gen::inRange(1, 64);
    const int over = under + *rc::gen::inRange(0, 64);
    const int much = 12 + *rc::gen::inRange(0, 100);
    const int part = *rc::gen::inRange(1, 12);
    for (const std::string& text :
         {fmt::format("{}-{}/{} in", a, over, under), fmt::format("{} {}/{} in", a, over, under),
          fmt::format("{}.5-1/2 in", a), fmt::format("{} ft -{} in", a, part),
          fmt::format("{} ft +{} in", a, part), fmt::format("-{} ft -{} in", a, part),
          fmt::format("{} ft {} in", a, much), fmt::format("{} in {} ft", a, part),
          fmt::format("{} in {} in", a, part), fmt::format("--{} in", a)}) {
      bool refused = false;
      try {
        input::parse_quantity(text, input::Dimension::length);
      } catch (const InputError&) {
        refused = true;
      }
      RC_ASSERT(refused);
    }
  }));
}

BOOST_AUTO_TEST_CASE(only_one_kind_of_error_comes_out)
{
  BOOST_TEST(rc::check([](const std::string& text) {
    for (const input::Dimension kind : kinds)
      try {
        RC_ASSERT(std::isfinite(input::parse_quantity(text, kind)));
      } catch (const InputError&) { // the only way out
      }
  }));
  BOOST_TEST(rc::check([] {
    const std::string text = *rc::gen::container<std::string>(
        rc::gen::elementOf(std::string("0123456789./-+ e'\"inftmlbd^NkgPaCF")));
    for (const input::Dimension kind : kinds)
      try {
        RC_ASSERT(std::isfinite(input::parse_quantity(text, kind)));
      } catch (const InputError&) { // the only way out
      }
  }));
}
