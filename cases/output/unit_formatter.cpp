#include "cases/output/unit_formatter.hpp"

#include "cases/input/units.hpp"

#include <fmt/format.h>

namespace hangtrue
{

FigureWords figure_words(Units units)
{
  const bool us = units == Units::us;
  FigureWords words;
  words.length = [units](double m) { return format_quantity(m, Kind::length, units); };
  words.size = [us](double m) {
    return us ? tape_fraction(m) + " in" : fmt::format("{:.4g} mm", 1e3 * m);
  };
  words.force = [units](double n) { return format_short(n, Kind::force, units); };
  words.moment = [units](double m) { return format_short(m, Kind::moment, units); };
  words.temperature = [units](double t) { return format_short(t, Kind::temperature, units); };
  words.stress = [units](double pa) { return format_short(pa, Kind::stress, units); };
  words.stress_number = [us](double pa) { return us ? pa / unit::ksi : 1e-6 * pa; };
  words.stress_unit = us ? "ksi" : "MPa";
  words.force_number = [us](double n) { return us ? n / unit::pound_force : n; };
  words.force_unit = us ? "lbf" : "N";
  words.length_number = [us](double m) { return us ? m / unit::inch : 1e3 * m; };
  words.temperature_number = [us](double t) { return us ? unit::fahrenheit(t) : t; };
  words.length_unit = us ? "in" : "mm";
  words.temperature_unit = us ? "degF" : "degC";
  return words;
}

} // namespace hangtrue
