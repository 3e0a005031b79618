// SPDX-License-Identifier: GPL-3.0-or-later
#include "cases/input/units.hpp"

#include <fmt/format.h>

#include <array>
#include <cmath>
#include <numbers>
#include <numeric>

namespace hangtrue::input
{

constexpr double unit::inch = 0.0254;                              // exact
constexpr double unit::pound_force = 4.4482216152605;              // exact
constexpr double unit::ksi = 1000.0 * pound_force / (inch * inch); // 1000 psi
constexpr double unit::minute = 60.0;
constexpr double unit::hour = 3600.0;

double unit::celsius(double fahrenheit)
{
  return (fahrenheit - 32.0) / 1.8;
}

double unit::fahrenheit(double celsius)
{
  return 1.8 * celsius + 32.0;
}

double unit::fahrenheit_difference(double kelvin)
{
  return 1.8 * kelvin;
}

double unit::degrees(double radians)
{
  return radians * 180.0 / std::numbers::pi;
}

namespace
{

using unit::inch;
using unit::pound_force;

constexpr double pound_mass = 0.45359237; // kg, exact
constexpr double pound_per_cubic_foot = pound_mass / (1728.0 * inch * inch * inch);
constexpr double psi = pound_force / (inch * inch);
// With the Btu of the International Table, 1055.05585262 J; pound and foot exact.
constexpr double btu_per_square_foot = 5.678263341113488; // and hour and degF, W/(m^2 K)
constexpr double btu_per_foot = 1.730734666371391;        // and hour and degF, W/(m K)
constexpr double btu_per_pound = 4186.8;                  // and degF, J/(kg K)

constexpr std::array<Unit, 44> table_of_units{{
    {Dimension::length, "in", inch, 0.0},
    {Dimension::length, "\"", inch, 0.0},
    {Dimension::length, "ft", 12.0 * inch, 0.0},
    {Dimension::length, "'", 12.0 * inch, 0.0},
    {Dimension::length, "mm", 1e-3, 0.0},
    {Dimension::length, "cm", 1e-2, 0.0},
    {Dimension::length, "m", 1.0, 0.0},
    {Dimension::force, "lbf", pound_force, 0.0},
    {Dimension::force, "lb", pound_force, 0.0},
    {Dimension::force, "kN", 1e3, 0.0},
    {Dimension::force, "N", 1.0, 0.0},
    {Dimension::temperature, "degC", 1.0, 0.0},
    {Dimension::temperature, "C", 1.0, 0.0},
    {Dimension::temperature, "degF", 5.0 / 9.0, -32.0},
    {Dimension::temperature, "F", 5.0 / 9.0, -32.0},
    {Dimension::density, "kg/m^3", 1.0, 0.0},
    {Dimension::density, "lb/ft^3", pound_per_cubic_foot, 0.0},
    {Dimension::stress, "ksi", 1e3 * psi, 0.0},
    {Dimension::stress, "psi", psi, 0.0},
    {Dimension::stress, "MPa", 1e6, 0.0},
    {Dimension::stress, "GPa", 1e9, 0.0},
    {Dimension::stress, "Pa", 1.0, 0.0},
    {Dimension::angle, "deg", std::numbers::pi / 180.0, 0.0},
    {Dimension::angle, "rad", 1.0, 0.0},
    {Dimension::time, "min", unit::minute, 0.0},
    {Dimension::time, "h", unit::hour, 0.0},
    {Dimension::time, "s", 1.0, 0.0},
    {Dimension::film, "W/m^2/K", 1.0, 0.0},
    {Dimension::film, "Btu/h/ft^2/F", btu_per_square_foot, 0.0},
    {Dimension::conductivity, "W/m/K", 1.0, 0.0},
    {Dimension::conductivity, "Btu/h/ft/F", btu_per_foot, 0.0},
    {Dimension::conductivity, "Btu in/h/ft^2/F", btu_per_foot / 12.0, 0.0},
    {Dimension::specific_heat, "J/kg/K", 1.0, 0.0},
    {Dimension::specific_heat, "Btu/lb/F", btu_per_pound, 0.0},
    {Dimension::strain, "mm/m", 1e-3, 0.0},
    {Dimension::strain, "%", 1e-2, 0.0},
    {Dimension::force_per_length, "lbf/in", pound_force / inch, 0.0},
    {Dimension::force_per_length, "N/mm", 1e3, 0.0},
    {Dimension::force_per_length, "kN/mm", 1e6, 0.0},
    {Dimension::force_per_length, "N/m", 1.0, 0.0},
    {Dimension::moment, "N m", 1.0, 0.0},
    {Dimension::area, "mm^2", 1e-6, 0.0},
    {Dimension::price, "/lb", 1.0 / pound_mass, 0.0},
    {Dimension::price, "/kg", 1.0, 0.0},
}};

} // namespace

std::span<const Unit> known_units()
{
  return table_of_units;
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

std::string format_short(double si, Dimension kind, UnitSystem units)
{
  const bool us = units == UnitSystem::us;
  switch (kind) {
  case Dimension::length:
    return us ? fmt::format("{:.4f} in", si / inch) : fmt::format("{:.3f} mm", 1e3 * si);
  case Dimension::force:
    return us ? fmt::format("{:.1f} lbf", si / pound_force) : fmt::format("{:.1f} N", si);
  case Dimension::temperature:
    return us ? fmt::format("{:.0f} degF", unit::fahrenheit(si)) : fmt::format("{:.0f} degC", si);
  case Dimension::density:
    return us ? fmt::format("{:.1f} lb/ft^3", si / pound_per_cubic_foot)
              : fmt::format("{:.0f} kg/m^3", si);
  case Dimension::stress:
    return us ? fmt::format("{:.2f} ksi", si / (1e3 * psi)) : fmt::format("{:.1f} MPa", 1e-6 * si);
  case Dimension::angle:
    return fmt::format("{:.3g} deg", unit::degrees(si));
  case Dimension::time: // less than a minute is not none
    return si != 0.0 && std::abs(si) < unit::minute ? fmt::format("{:.3g} s", si)
                                                    : fmt::format("{:.0f} min", si / unit::minute);
  case Dimension::film:
    return us ? fmt::format("{:.2f} Btu/h/ft^2/F", si / btu_per_square_foot)
              : fmt::format("{:.1f} W/m^2/K", si);
  case Dimension::conductivity:
    return us ? fmt::format("{:.3f} Btu/h/ft/F", si / btu_per_foot)
              : fmt::format("{:.3f} W/m/K", si);
  case Dimension::specific_heat:
    return us ? fmt::format("{:.3f} Btu/lb/F", si / btu_per_pound)
              : fmt::format("{:.0f} J/kg/K", si);
  case Dimension::strain:
    return fmt::format("{:.2f} mm/m", 1e3 * si);
  case Dimension::force_per_length:
    return us ? fmt::format("{:.2f} lbf/in", si / (pound_force / inch))
              : fmt::format("{:.2f} N/mm", 1e-3 * si);
  case Dimension::moment:
    return us ? fmt::format("{:.1f} lbf in", si / (pound_force * inch))
              : fmt::format("{:.2f} N m", si);
  case Dimension::area: // a slit: hundredths of a square inch matter
    return us ? fmt::format("{:.3f} in^2", si / (inch * inch))
              : fmt::format("{:.1f} mm^2", 1e6 * si);
  case Dimension::price:
    return us ? fmt::format("{:.2f} /lb", si * pound_mass) : fmt::format("{:.2f} /kg", si);
  }
  return fmt::format("{}", si);
}

std::string format_quantity(double si, Dimension kind, UnitSystem units)
{
  std::string plain = format_short(si, kind, units);
  if (kind != Dimension::length || units != UnitSystem::us)
    return plain;
  const std::string on_a_tape = tape_fraction(si);
  return on_a_tape == "0" ? plain : fmt::format("{} ({})", plain, on_a_tape);
}

std::string format_bound(double si, Dimension kind, UnitSystem units, Bound bound)
{
  const std::string plain = format_short(si, kind, units);
  const std::size_t blank = plain.find(' ');
  const std::string number = plain.substr(0, blank);
  const std::string unit = plain.substr(blank);
  const std::size_t dot = number.find('.');
  int places = dot == std::string::npos ? 0 : static_cast<int>(number.size() - dot - 1);
  const double zero = parse_quantity("0" + unit, kind); // SI of 0 and of 1 in that unit
  const double one = parse_quantity("1" + unit, kind);
  const double inwards = bound == Bound::minimum ? 1.0 : -1.0;
  // The fewest decimals that leave it within its range and within a hundredth of itself.
  for (; places < 12; ++places) {
    const double step = std::pow(10.0, -places);
    const double shown = std::round((si - zero) / (one - zero) / step);
    for (const double steps : {shown, shown + inwards}) {
      std::string text = fmt::format("{:.{}f}{}", steps * step + 0.0, places, unit);
      const double value = parse_quantity(text, kind);
      const double slack = 1e-12 * std::abs(si);
      if (inwards * (value - si) >= -slack && std::abs(value - si) <= 0.01 * std::abs(si))
        return text;
    }
  }
  return format_exact(si, kind);
}

std::string format_exact(double si, Dimension kind)
{
  switch (kind) {
  case Dimension::length:
    return fmt::format("{} m", si);
  case Dimension::force:
    return fmt::format("{} N", si);
  case Dimension::temperature:
    return fmt::format("{} degC", si);
  case Dimension::density:
    return fmt::format("{} kg/m^3", si);
  case Dimension::stress:
    return fmt::format("{} Pa", si);
  case Dimension::angle:
    return fmt::format("{} rad", si);
  case Dimension::time:
    return fmt::format("{} s", si);
  case Dimension::film:
    return fmt::format("{} W/m^2/K", si);
  case Dimension::conductivity:
    return fmt::format("{} W/m/K", si);
  case Dimension::specific_heat:
    return fmt::format("{} J/kg/K", si);
  case Dimension::strain:
    return fmt::format("{} mm/m", 1e3 * si);
  case Dimension::force_per_length:
    return fmt::format("{} N/m", si);
  case Dimension::moment:
    return fmt::format("{} N m", si);
  case Dimension::area:
    return fmt::format("{} mm^2", 1e6 * si);
  case Dimension::price:
    return fmt::format("{} /kg", si);
  }
  return "";
}

} // namespace hangtrue::input
