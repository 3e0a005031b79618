// SPDX-License-Identifier: GPL-3.0-or-later
#include "cases/output/unit_formatter.hpp"

#include "cases/input/units.hpp"

#include <fmt/format.h>

namespace hangtrue::output
{

figures::UnitFormatter unit_formatter(input::UnitSystem units)
{
  const bool us = units == input::UnitSystem::us;
  figures::UnitFormatter words;
  words.length = [units](double m) {
    return input::format_quantity(m, input::Dimension::length, units);
  };
  words.size = [us](double m) {
    return us ? input::tape_fraction(m) + " in" : fmt::format("{:.4g} mm", 1e3 * m);
  };
  words.force = [units](double n) {
    return input::format_short(n, input::Dimension::force, units);
  };
  words.moment = [units](double m) {
    return input::format_short(m, input::Dimension::moment, units);
  };
  words.temperature = [units](double t) {
    return input::format_short(t, input::Dimension::temperature, units);
  };
  words.stress = [units](double pa) {
    return input::format_short(pa, input::Dimension::stress, units);
  };
  words.stress_number = [us](double pa) { return us ? pa / input::unit::ksi : 1e-6 * pa; };
  words.stress_unit = us ? "ksi" : "MPa";
  words.force_number = [us](double n) { return us ? n / input::unit::pound_force : n; };
  words.force_unit = us ? "lbf" : "N";
  words.length_number = [us](double m) { return us ? m / input::unit::inch : 1e3 * m; };
  words.temperature_number = [us](double t) { return us ? input::unit::fahrenheit(t) : t; };
  words.length_unit = us ? "in" : "mm";
  words.temperature_unit = us ? "degF" : "degC";
  return words;
}

} // namespace hangtrue::output
