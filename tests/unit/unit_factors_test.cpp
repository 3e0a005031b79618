// SPDX-License-Identifier: GPL-3.0-or-later
// A conversion of units is only in cases/input/units.cpp.
#define BOOST_TEST_MODULE unit_factors
#include "tests/support/source_texts.hpp"

#include <boost/test/unit_test.hpp>

#include <regex>
#include <string>
#include <vector>

namespace
{

using hangtrue::Sources;

const char* const home = "cases/input/units.cpp";

// Without comments and texts.
std::string code_of(const std::string& source)
{
  const std::string code = std::regex_replace(source, std::regex("//[^\n]*"), "");
  return std::regex_replace(code, std::regex(R"re("(?:[^"\\\n]|\\.)*")re"), "\"\"");
}

// Factors in a source between the units of the trade and SI: inch and foot, pound and ounce, psi,
// degF, Btu, hour. Powers of ten and degrees of an angle are not searched for.
std::vector<std::string> factors_in(const std::string& source)
{
  const std::regex factor(
      R"((^|[^\w.])(0\.0254|2\.54|25\.4|0\.3048|304\.8|4\.448\d*|0\.4535?\d*|2\.2046\d*|28\.349\d*)"
      R"(|6\.8947?\d*|6894\d*\.?\d*|273\.15|459\.67|1055\.\d+|3\.412\d*|4186\.8|1\.7307\d*)"
      R"(|5\.678\d*|3600\.0|5\.0 / 9\.0)(e[-+]?\d+)?(?![\w.]))");
  std::vector<std::string> found;
  const std::string code = code_of(source);
  for (auto it = std::sregex_iterator(code.begin(), code.end(), factor);
       it != std::sregex_iterator(); ++it)
    found.push_back((*it)[2]);
  return found;
}

// degF to a degree of K. Not searched for in viz, whose pages have lengths of 1.8 mm.
bool has_fahrenheit(const std::string& source)
{
  return std::regex_search(code_of(source), std::regex(R"((^|[^\w.])1\.8(?![\w.]))"));
}

} // namespace

BOOST_AUTO_TEST_CASE(unit_factors_are_in_one_source)
{
  const Sources sources = hangtrue::source_texts({"viz", "cases"});
  for (const auto& [path, text] : sources) {
    if (path == home)
      continue;
    for (const auto& factor : factors_in(text))
      BOOST_ERROR(path << " holds " << factor << ", which belongs in " << home);
    BOOST_TEST((path.rfind("cases/", 0) != 0 || !has_fahrenheit(text)),
               path << " holds 1.8, which belongs in " << home);
  }
  BOOST_REQUIRE(sources.count(home) == 1U);
  // Inch, pound-force, pound of mass, hour, both of film and conductivity, specific heat, and degF
  // twice in the table.
  BOOST_TEST(factors_in(sources.at(home)).size() >= 8U);
  BOOST_TEST(has_fahrenheit(sources.at(home)));
}

BOOST_AUTO_TEST_CASE(a_planted_factor_is_found)
{
  for (const char* planted :
       {"constexpr double inch = 0.0254;", "x * 25.4", "4.4482216152605 * f", "6.894757e6",
        "6894.76", "m / 0.45359237", "t + 273.15", "5.0 / 9.0 * f", "h * 3600.0"})
    BOOST_TEST(factors_in(planted).size() == 1U, planted);
  for (const char* planted : {"1.8 * t + 32.0", "(f - 32.0) / 1.8"})
    BOOST_TEST(has_fahrenheit(planted), planted);
  for (const char* harmless :
       {"// 0.0254 m", "\"0.0254 m\"", "10.0254", "0.02541", "9.0 / 5.0", "\"1.8 / 2.00\"", "11.8"})
    BOOST_TEST((factors_in(harmless).empty() && !has_fahrenheit(harmless)), harmless);
}
