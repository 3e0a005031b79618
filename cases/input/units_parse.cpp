// SPDX-License-Identifier: GPL-3.0-or-later
// A quantity read from its text.
#include "cases/input/units.hpp"
#include "meshing/common/errors.hpp"

#include <fmt/format.h>

#include <charconv>
#include <cmath>
#include <limits>
#include <optional>
#include <string_view>
#include <utility>
#include <vector>

namespace hangtrue::input
{

namespace
{

std::string_view kind_name(Dimension kind)
{
  switch (kind) {
  case Dimension::length:
    return "a length";
  case Dimension::force:
    return "a force";
  case Dimension::temperature:
    return "a temperature";
  case Dimension::density:
    return "a density";
  case Dimension::stress:
    return "a stress";
  case Dimension::angle:
    return "an angle";
  case Dimension::time:
    return "a time";
  case Dimension::film:
    return "a film coefficient";
  case Dimension::conductivity:
    return "a conductivity";
  case Dimension::specific_heat:
    return "a specific heat";
  case Dimension::strain:
    return "a strain";
  case Dimension::force_per_length:
    return "a force per length";
  case Dimension::moment:
    return "a moment";
  case Dimension::area:
    return "an area";
  case Dimension::price:
    return "a price";
  }
  return "a quantity";
}

std::string_view example(Dimension kind)
{
  switch (kind) {
  case Dimension::length:
    return "\"1-1/2 in\" or \"38 mm\"";
  case Dimension::force:
    return "\"60 lbf\" or \"270 N\"";
  case Dimension::temperature:
    return "\"650 degF\" or \"343 degC\"";
  case Dimension::density:
    return "\"128 kg/m^3\" or \"8 lb/ft^3\"";
  case Dimension::stress:
    return "\"36 ksi\" or \"250 MPa\"";
  case Dimension::angle:
    return "\"90 deg\"";
  case Dimension::time:
    return "\"30 min\" or \"4 h\"";
  case Dimension::film:
    return "\"25 W/m^2/K\"";
  case Dimension::conductivity:
    return "\"0.06 W/m/K\"";
  case Dimension::specific_heat:
    return "\"500 J/kg/K\"";
  case Dimension::strain:
    return "\"5.2 mm/m\"";
  case Dimension::force_per_length:
    return "\"5 lbf/in\" or \"0.9 N/mm\"";
  case Dimension::moment:
    return "\"10 N m\"";
  case Dimension::area:
    return "\"100 mm^2\"";
  case Dimension::price:
    return "\"0.90 /lb\" or \"2 /kg\"";
  }
  return "";
}

[[noreturn]] void refuse(const std::string& text, Dimension kind, const std::string& why)
{
  throw InputError(fmt::format("found \"{}\": {}; allowed is {} in {}; write for example {}",
                               message_text(text), why, kind_name(kind), allowed_units(kind),
                               example(kind)));
}

// Reads from the front of a text.
class Scanner
{
public:
  explicit Scanner(std::string_view text) : rest_(text) {}

  void skip_blanks()
  {
    while (!rest_.empty() && (rest_.front() == ' ' || rest_.front() == '\t'))
      rest_.remove_prefix(1);
  }
  [[nodiscard]] bool done() const { return rest_.empty(); }
  bool take(char c)
  {
    if (rest_.empty() || rest_.front() != c)
      return false;
    rest_.remove_prefix(1);
    return true;
  }
  [[nodiscard]] bool at_digit() const
  {
    return !rest_.empty() &&
           ((rest_.front() >= '0' && rest_.front() <= '9') || rest_.front() == '.');
  }
  std::optional<double> decimal()
  {
    if (!at_digit())
      return std::nullopt;
    double value = 0.0;
    const auto [end, error] = std::from_chars(rest_.data(), rest_.data() + rest_.size(), value);
    if (error == std::errc::result_out_of_range)
      value = std::numeric_limits<double>::quiet_NaN(); // the sum is refused at its end
    else if (error != std::errc())
      return std::nullopt;
    rest_.remove_prefix(static_cast<std::size_t>(end - rest_.data()));
    return value;
  }
  // A fraction after a whole number: "-1/2" or " 1/2"; nothing is taken when there is none.
  std::optional<double> fraction_part(bool& zero_below)
  {
    Scanner ahead = *this;
    if (!ahead.take('-'))
      ahead.skip_blanks();
    const auto over = ahead.decimal();
    if (!over || !ahead.take('/'))
      return std::nullopt;
    const auto under = ahead.decimal();
    if (!under)
      return std::nullopt;
    zero_below = *under == 0.0;
    *this = ahead;
    return *over / *under;
  }
  // The longest known unit here that ends where a unit may end; nothing is taken when there is
  // none.
  const Unit* unit()
  {
    const Unit* longest = nullptr;
    for (const auto& unit : known_units())
      if (rest_.starts_with(unit.name) && ends_after(unit.name.size()) &&
          (longest == nullptr || unit.name.size() > longest->name.size()))
        longest = &unit;
    if (longest != nullptr)
      rest_.remove_prefix(longest->name.size());
    return longest;
  }
  // The text where a unit is due.
  [[nodiscard]] std::string_view word() const
  {
    return rest_.substr(0, rest_.find_first_of(" \t"));
  }
  [[nodiscard]] bool at_sign() const
  {
    return !rest_.empty() && (rest_.front() == '-' || rest_.front() == '+');
  }

private:
  std::string_view rest_;

  [[nodiscard]] bool ends_after(std::size_t n) const
  {
    return n == rest_.size() ||
           std::string_view(" \t0123456789.+-").find(rest_[n]) != std::string_view::npos;
  }
};

// A number without its sign, which belongs to the whole.
double number(Scanner& scan, const std::string& text, Dimension kind)
{
  const auto first = scan.decimal();
  if (!first)
    refuse(text, kind,
           scan.at_sign() ? "a sign stands inside it, where it would not say what it belongs to"
                          : "there is no number where one is due");
  bool zero_below = false;
  if (scan.take('/')) {
    const auto under = scan.decimal();
    if (!under)
      refuse(text, kind, "a fraction has nothing below its line");
    if (*under == 0.0)
      refuse(text, kind, "a fraction has zero below its line");
    return *first / *under;
  }
  const auto part = scan.fraction_part(zero_below);
  if (!part)
    return *first;
  if (zero_below)
    refuse(text, kind, "a fraction has zero below its line");
  if (*first != std::floor(*first))
    refuse(text, kind, "a fraction stands behind a number that is not whole");
  if (*part >= 1.0)
    refuse(text, kind, "the fraction behind a whole number is not less than 1");
  return *first + *part;
}

const Unit& unit_at(Scanner& scan, const std::string& text, Dimension kind)
{
  if (scan.done())
    refuse(text, kind, "the unit is missing");
  if (scan.at_sign())
    refuse(text, kind, "a sign stands inside it, where it would not say what it belongs to");
  const std::string_view word = scan.word();
  const Unit* unit = scan.unit();
  if (unit == nullptr)
    refuse(text, kind, fmt::format("\"{}\" is no unit that is known here", message_text(word)));
  if (unit->kind != kind)
    refuse(text, kind, fmt::format("\"{}\" is the unit of {}", unit->name, kind_name(unit->kind)));
  return *unit;
}

// A text as read: its value in SI, and the unit of its last part.
struct Quantity {
  double si = 0.0;
  const Unit* unit = nullptr;
};

// [sign] number unit {number unit}: one sign for the whole; for lengths more parts in falling
// units, each less than one of the unit before it.
Quantity read_parts(const std::string& text, Dimension kind)
{
  Scanner scan(text);
  scan.skip_blanks();
  if (scan.done())
    refuse(text, kind, "it is empty");
  const double sign = scan.take('-') ? -1.0 : 1.0;
  if (sign > 0.0)
    scan.take('+');
  Quantity read;
  while (!scan.done()) {
    const double value = number(scan, text, kind);
    scan.skip_blanks();
    const Unit* larger = read.unit;
    read.unit = &unit_at(scan, text, kind);
    if (larger != nullptr && (kind != Dimension::length || read.unit->factor >= larger->factor))
      refuse(text, kind, "something stands after the unit");
    if (larger != nullptr && value * read.unit->factor >= (1.0 - 1e-12) * larger->factor)
      refuse(text, kind,
             fmt::format("{:g} {} are 1 {} or more", value, read.unit->name, larger->name));
    read.si += (sign * value + read.unit->offset) * read.unit->factor;
    scan.skip_blanks();
  }
  if (read.unit == nullptr)
    refuse(text, kind, "there is no number where one is due");
  if (!std::isfinite(read.si))
    refuse(text, kind, "the number is too large or too small to be held");
  return read;
}

} // namespace

std::string allowed_units(Dimension kind)
{
  std::vector<std::string_view> names;
  for (const auto& unit : known_units())
    if (unit.kind == kind && unit.name != "\"" && unit.name != "'")
      names.push_back(unit.name);
  std::string list;
  for (std::size_t i = 0; i < names.size(); ++i) {
    if (i > 0)
      list += i + 1 == names.size() ? " or " : ", ";
    list += names[i];
  }
  return list;
}

double parse_quantity(const std::string& text, Dimension kind)
{
  return read_parts(text, kind).si;
}

std::string last_unit(const std::string& text, Dimension kind)
{
  return std::string(read_parts(text, kind).unit->name);
}

} // namespace hangtrue::input
