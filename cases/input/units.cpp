#include "cases/input/units.hpp"

#include "meshing/common/errors.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <charconv>
#include <cmath>
#include <cstdlib>
#include <limits>
#include <numbers>
#include <numeric>
#include <optional>
#include <string_view>
#include <utility>
#include <vector>

namespace hangtrue
{

namespace
{

struct Unit {
  Kind kind;
  std::string_view name;
  double factor; // to SI
  double offset; // SI = (value + offset) * factor
};

constexpr double inch = 0.0254;           // m, exact
constexpr double pound = 4.4482216152605; // N, exact
constexpr double pound_mass = 0.45359237; // kg, exact
constexpr double psi = pound / (inch * inch);

constexpr std::array<Unit, 44> known_units{{
    {Kind::length, "in", inch, 0.0},
    {Kind::length, "\"", inch, 0.0},
    {Kind::length, "ft", 12.0 * inch, 0.0},
    {Kind::length, "'", 12.0 * inch, 0.0},
    {Kind::length, "mm", 1e-3, 0.0},
    {Kind::length, "cm", 1e-2, 0.0},
    {Kind::length, "m", 1.0, 0.0},
    {Kind::force, "lbf", pound, 0.0},
    {Kind::force, "lb", pound, 0.0},
    {Kind::force, "kN", 1e3, 0.0},
    {Kind::force, "N", 1.0, 0.0},
    {Kind::temperature, "degC", 1.0, 0.0},
    {Kind::temperature, "C", 1.0, 0.0},
    {Kind::temperature, "degF", 5.0 / 9.0, -32.0},
    {Kind::temperature, "F", 5.0 / 9.0, -32.0},
    {Kind::density, "kg/m^3", 1.0, 0.0},
    {Kind::density, "lb/ft^3", pound_mass / (1728.0 * inch * inch * inch), 0.0},
    {Kind::stress, "ksi", 1e3 * psi, 0.0},
    {Kind::stress, "psi", psi, 0.0},
    {Kind::stress, "MPa", 1e6, 0.0},
    {Kind::stress, "GPa", 1e9, 0.0},
    {Kind::stress, "Pa", 1.0, 0.0},
    {Kind::angle, "deg", std::numbers::pi / 180.0, 0.0},
    {Kind::angle, "rad", 1.0, 0.0},
    {Kind::time, "min", 60.0, 0.0},
    {Kind::time, "h", 3600.0, 0.0},
    {Kind::time, "s", 1.0, 0.0},
    {Kind::film, "W/m^2/K", 1.0, 0.0},
    {Kind::film, "Btu/h/ft^2/F", 5.678263341113488, 0.0}, // 1055.05585262 J, 0.3048 m, 5/9 K
    // Btu of the International Table, lb and foot exact.
    {Kind::conductivity, "W/m/K", 1.0, 0.0},
    {Kind::conductivity, "Btu/h/ft/F", 1.730734666371391, 0.0},
    {Kind::conductivity, "Btu in/h/ft^2/F", 1.730734666371391 / 12.0, 0.0},
    {Kind::specific_heat, "J/kg/K", 1.0, 0.0},
    {Kind::specific_heat, "Btu/lb/F", 4186.8, 0.0},
    {Kind::strain, "mm/m", 1e-3, 0.0},
    {Kind::strain, "%", 1e-2, 0.0},
    {Kind::force_per_length, "lbf/in", pound / inch, 0.0},
    {Kind::force_per_length, "N/mm", 1e3, 0.0},
    {Kind::force_per_length, "kN/mm", 1e6, 0.0},
    {Kind::force_per_length, "N/m", 1.0, 0.0},
    {Kind::moment, "N m", 1.0, 0.0},
    {Kind::area, "mm^2", 1e-6, 0.0},
    {Kind::price, "/lb", 1.0 / pound_mass, 0.0},
    {Kind::price, "/kg", 1.0, 0.0},
}};

std::string_view kind_name(Kind kind)
{
  switch (kind) {
  case Kind::length:
    return "a length";
  case Kind::force:
    return "a force";
  case Kind::temperature:
    return "a temperature";
  case Kind::density:
    return "a density";
  case Kind::stress:
    return "a stress";
  case Kind::angle:
    return "an angle";
  case Kind::time:
    return "a time";
  case Kind::film:
    return "a film coefficient";
  case Kind::conductivity:
    return "a conductivity";
  case Kind::specific_heat:
    return "a specific heat";
  case Kind::strain:
    return "a strain";
  case Kind::force_per_length:
    return "a force per length";
  case Kind::moment:
    return "a moment";
  case Kind::area:
    return "an area";
  case Kind::price:
    return "a price";
  }
  return "a quantity";
}

std::string_view example(Kind kind)
{
  switch (kind) {
  case Kind::length:
    return "\"1-1/2 in\" or \"38 mm\"";
  case Kind::force:
    return "\"60 lbf\" or \"270 N\"";
  case Kind::temperature:
    return "\"650 degF\" or \"343 degC\"";
  case Kind::density:
    return "\"128 kg/m^3\" or \"8 lb/ft^3\"";
  case Kind::stress:
    return "\"36 ksi\" or \"250 MPa\"";
  case Kind::angle:
    return "\"90 deg\"";
  case Kind::time:
    return "\"30 min\" or \"4 h\"";
  case Kind::film:
    return "\"25 W/m^2/K\"";
  case Kind::conductivity:
    return "\"0.06 W/m/K\"";
  case Kind::specific_heat:
    return "\"500 J/kg/K\"";
  case Kind::strain:
    return "\"5.2 mm/m\"";
  case Kind::force_per_length:
    return "\"5 lbf/in\" or \"0.9 N/mm\"";
  case Kind::moment:
    return "\"10 N m\"";
  case Kind::area:
    return "\"100 mm^2\"";
  case Kind::price:
    return "\"0.90 /lb\" or \"2 /kg\"";
  }
  return "";
}

[[noreturn]] void refuse(const std::string& text, Kind kind, const std::string& why)
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
    for (const auto& unit : known_units)
      if (rest_.starts_with(unit.name) && ends_after(unit.name.size()) &&
          (longest == nullptr || unit.name.size() > longest->name.size()))
        longest = &unit;
    if (longest != nullptr)
      rest_.remove_prefix(longest->name.size());
    return longest;
  }
  // What stands where a unit is due.
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
double number(Scanner& scan, const std::string& text, Kind kind)
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

const Unit& unit_at(Scanner& scan, const std::string& text, Kind kind)
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
Quantity read_parts(const std::string& text, Kind kind)
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
    if (larger != nullptr && (kind != Kind::length || read.unit->factor >= larger->factor))
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

std::string allowed_units(Kind kind)
{
  std::vector<std::string_view> names;
  for (const auto& unit : known_units)
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

double parse_quantity(const std::string& text, Kind kind)
{
  return read_parts(text, kind).si;
}

std::string last_unit(const std::string& text, Kind kind)
{
  return std::string(read_parts(text, kind).unit->name);
}

std::string tape_fraction(double metres)
{
  const long parts = std::lround(std::abs(metres) / inch * 64.0);
  if (parts == 0)
    return "0";
  const std::string sign = metres < 0.0 ? "-" : "";
  const long whole = parts / 64;
  const long rest = parts % 64;
  if (rest == 0)
    return fmt::format("{}{}", sign, whole);
  const long common = std::gcd(rest, 64L);
  const std::string fraction = fmt::format("{}/{}", rest / common, 64 / common);
  return whole == 0 ? sign + fraction : fmt::format("{}{}-{}", sign, whole, fraction);
}

std::string format_short(double si, Kind kind, Units units)
{
  const bool us = units == Units::us;
  switch (kind) {
  case Kind::length:
    return us ? fmt::format("{:.4f} in", si / inch) : fmt::format("{:.3f} mm", 1e3 * si);
  case Kind::force:
    return us ? fmt::format("{:.1f} lbf", si / pound) : fmt::format("{:.1f} N", si);
  case Kind::temperature:
    return us ? fmt::format("{:.0f} degF", 1.8 * si + 32.0) : fmt::format("{:.0f} degC", si);
  case Kind::density:
    return us ? fmt::format("{:.1f} lb/ft^3", si / known_units[16].factor)
              : fmt::format("{:.0f} kg/m^3", si);
  case Kind::stress:
    return us ? fmt::format("{:.2f} ksi", si / (1e3 * psi)) : fmt::format("{:.1f} MPa", 1e-6 * si);
  case Kind::angle:
    return fmt::format("{:.3g} deg", si * 180.0 / std::numbers::pi);
  case Kind::time: // less than a minute is not none
    return si != 0.0 && std::abs(si) < 60.0 ? fmt::format("{:.3g} s", si)
                                            : fmt::format("{:.0f} min", si / 60.0);
  case Kind::film:
    return us ? fmt::format("{:.2f} Btu/h/ft^2/F", si / 5.678263341113488)
              : fmt::format("{:.1f} W/m^2/K", si);
  case Kind::conductivity:
    return us ? fmt::format("{:.3f} Btu/h/ft/F", si / 1.730734666371391)
              : fmt::format("{:.3f} W/m/K", si);
  case Kind::specific_heat:
    return us ? fmt::format("{:.3f} Btu/lb/F", si / 4186.8) : fmt::format("{:.0f} J/kg/K", si);
  case Kind::strain:
    return fmt::format("{:.2f} mm/m", 1e3 * si);
  case Kind::force_per_length:
    return us ? fmt::format("{:.2f} lbf/in", si / (pound / inch))
              : fmt::format("{:.2f} N/mm", 1e-3 * si);
  case Kind::moment:
    return us ? fmt::format("{:.1f} lbf in", si / (pound * inch)) : fmt::format("{:.2f} N m", si);
  case Kind::area: // a slit: hundredths of a square inch tell
    return us ? fmt::format("{:.3f} in^2", si / (inch * inch))
              : fmt::format("{:.1f} mm^2", 1e6 * si);
  case Kind::price:
    return us ? fmt::format("{:.2f} /lb", si * pound_mass) : fmt::format("{:.2f} /kg", si);
  }
  return fmt::format("{}", si);
}

std::string format_quantity(double si, Kind kind, Units units)
{
  const std::string plain = format_short(si, kind, units);
  if (kind != Kind::length || units != Units::us)
    return plain;
  const std::string on_a_tape = tape_fraction(si);
  return on_a_tape == "0" ? plain : fmt::format("{} ({})", plain, on_a_tape);
}

std::string format_bound(double si, Kind kind, Units units, Bound bound)
{
  const std::string plain = format_short(si, kind, units);
  const std::size_t blank = plain.find(' ');
  const std::string number = plain.substr(0, blank);
  const std::string unit = plain.substr(blank);
  const std::size_t dot = number.find('.');
  int places = dot == std::string::npos ? 0 : static_cast<int>(number.size() - dot - 1);
  const double zero = parse_quantity("0" + unit, kind); // SI of 0 and of 1 in that unit
  const double one = parse_quantity("1" + unit, kind);
  const double inwards = bound == Bound::least ? 1.0 : -1.0;
  // As few places as leave it within its range and within a hundredth of itself.
  for (; places < 12; ++places) {
    const double step = std::pow(10.0, -places);
    const double shown = std::round((si - zero) / (one - zero) / step);
    for (const double steps : {shown, shown + inwards}) {
      const std::string text = fmt::format("{:.{}f}{}", steps * step + 0.0, places, unit);
      const double value = parse_quantity(text, kind);
      const double slack = 1e-12 * std::abs(si);
      if (inwards * (value - si) >= -slack && std::abs(value - si) <= 0.01 * std::abs(si))
        return text;
    }
  }
  return format_exact(si, kind);
}

std::string format_exact(double si, Kind kind)
{
  switch (kind) {
  case Kind::length:
    return fmt::format("{} m", si);
  case Kind::force:
    return fmt::format("{} N", si);
  case Kind::temperature:
    return fmt::format("{} degC", si);
  case Kind::density:
    return fmt::format("{} kg/m^3", si);
  case Kind::stress:
    return fmt::format("{} Pa", si);
  case Kind::angle:
    return fmt::format("{} rad", si);
  case Kind::time:
    return fmt::format("{} s", si);
  case Kind::film:
    return fmt::format("{} W/m^2/K", si);
  case Kind::conductivity:
    return fmt::format("{} W/m/K", si);
  case Kind::specific_heat:
    return fmt::format("{} J/kg/K", si);
  case Kind::strain:
    return fmt::format("{} mm/m", 1e3 * si);
  case Kind::force_per_length:
    return fmt::format("{} N/m", si);
  case Kind::moment:
    return fmt::format("{} N m", si);
  case Kind::area:
    return fmt::format("{} mm^2", 1e6 * si);
  case Kind::price:
    return fmt::format("{} /kg", si);
  }
  return "";
}

} // namespace hangtrue
