// SPDX-License-Identifier: GPL-3.0-or-later
// A number with its unit, in the writing of the trade, and back.
#pragma once

#include "cases/input/clean_text.hpp"
#include "cases/input/door_case.hpp"

#include <span>
#include <string>
#include <string_view>

namespace hangtrue::input
{

/// Units of the trade in SI. All other sources take their factors from here.
namespace unit
{
extern const double inch;        ///< m, exact
extern const double pound_force; ///< N, exact
extern const double ksi;         ///< Pa
extern const double minute;      ///< s
extern const double hour;        ///< s

/// Temperature in degC of one in degF.
double celsius(double fahrenheit);

/// Temperature in degF of one in degC.
double fahrenheit(double celsius);

/// Difference of temperatures, degF, of one in K.
double fahrenheit_difference(double kelvin);

/// Angle in degrees of one in rad.
double degrees(double radians);
} // namespace unit

/// Dimensions of the quantities in a door file.
enum class Dimension {
  length,           ///< m
  force,            ///< N
  temperature,      ///< degC
  density,          ///< kg/m^3
  stress,           ///< Pa
  angle,            ///< rad
  time,             ///< s
  film,             ///< W/(m^2 K)
  conductivity,     ///< W/(m K)
  specific_heat,    ///< J/(kg K)
  strain,           ///< m/m
  force_per_length, ///< N/m
  price,            ///< money per kg
  moment,           ///< N m (output only)
  area              ///< m^2, of a leak (output only)
};

/// One unit that a quantity may be written in.
struct Unit {
  Dimension kind;
  std::string_view name;
  double factor; ///< to SI
  double offset; ///< SI = (value + offset) * factor
};

/// All of them.
std::span<const Unit> known_units();

/// Units that a kind may be written in, for messages: "in, ft, mm, cm or m".
std::string allowed_units(Dimension kind);

/// Value in SI of a text such as "1-1/2 in", "2 ft 6 in", "38 mm", "650 degF", "150 lbf". One sign
/// in front belongs to the whole ("-1 cm 5 mm" is -15 mm); a fraction behind a whole number is less
/// than 1; further parts of a length are in falling units and less than one of the unit before.
/// Throws InputError that says what was found, what is allowed and how to repair it.
double parse_quantity(const std::string& text, Dimension kind);

/// The unit of the last part of such a text: "in" of "2 ft 6 in". Throws like parse_quantity.
std::string last_unit(const std::string& text, Dimension kind);

/// The value in the user's units with a sensible number of decimals; lengths in inches have the
/// nearest 1/64 as a tape reads it: "0.0469 in (3/64)".
std::string format_quantity(double si, Dimension kind, UnitSystem units);

/// The same without the tape fraction, for tables with narrow columns.
std::string format_short(double si, Dimension kind, UnitSystem units);

/// Whether a bound is the least or the most that is allowed.
enum class Bound { minimum, maximum };

/// A bound of a range in the user's units, rounded inwards, so that what is shown is allowed.
std::string format_bound(double si, Dimension kind, UnitSystem units, Bound bound);

/// Nearest 1/64 in of a length, m, in lowest terms: "1-3/64", "0" or "-1/32".
std::string tape_fraction(double metres);

/// Text that parses back to the same value: "x m", "x N" with all digits.
std::string format_exact(double si, Dimension kind);

} // namespace hangtrue::input
