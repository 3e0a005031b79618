// Properties of the unit parser over many values and texts.
#define BOOST_TEST_MODULE quantity_properties
#include <boost/test/unit_test.hpp>

#include "cases/quantity.hpp"
#include "meshing/errors.hpp"

#include <fmt/format.h>
#include <rapidcheck.h>

#include <cmath>
#include <string>

using namespace hangtrue;

namespace
{

constexpr Kind kinds[] = {Kind::length, Kind::force, Kind::temperature, Kind::density,
                          Kind::stress, Kind::angle, Kind::time,        Kind::film};

} // namespace

BOOST_AUTO_TEST_CASE(what_is_written_reads_back)
{
  BOOST_TEST(rc::check([] {
    const double value = *rc::gen::map(rc::gen::inRange(-1000000000, 1000000000),
                                       [](int n) { return n * 1.2345678901e-5; });
    for (const Kind kind : kinds)
      RC_ASSERT(parse_quantity(format_exact(value, kind), kind) == value);
  }));
}

BOOST_AUTO_TEST_CASE(inches_and_millimetres_agree)
{
  BOOST_TEST(rc::check([] {
    const int sixty_fourths = *rc::gen::inRange(1, 64 * 200);
    const double inches = parse_quantity(
        fmt::format("{}-{}/64 in", sixty_fourths / 64, sixty_fourths % 64), Kind::length);
    const double mm =
        parse_quantity(fmt::format("{} mm", 25.4 * sixty_fourths / 64.0), Kind::length);
    RC_ASSERT(std::abs(inches - mm) <= 1e-12 * mm);
  }));
}

BOOST_AUTO_TEST_CASE(only_one_kind_of_error_comes_out)
{
  BOOST_TEST(rc::check([](const std::string& text) {
    for (const Kind kind : kinds)
      try {
        RC_ASSERT(std::isfinite(parse_quantity(text, kind)));
      } catch (const InputError&) { // the only way out
      }
  }));
  BOOST_TEST(rc::check([] {
    const std::string text = *rc::gen::container<std::string>(
        rc::gen::elementOf(std::string("0123456789./-+ e'\"inftmlbd^NkgPaCF")));
    for (const Kind kind : kinds)
      try {
        RC_ASSERT(std::isfinite(parse_quantity(text, kind)));
      } catch (const InputError&) { // the only way out
      }
  }));
}
