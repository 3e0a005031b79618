#include "cases/output/unit_formatter.hpp"

#include "cases/input/units.hpp"

#include <fmt/format.h>

namespace hangtrue
{

namespace
{

constexpr double inch = 0.0254;                              // m
constexpr double pound_force = 4.4482216152605;              // N
constexpr double ksi = 1000.0 * pound_force / (inch * inch); // Pa

} // namespace

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
  words.stress_number = [us](double pa) { return us ? pa / ksi : 1e-6 * pa; };
  words.stress_unit = us ? "ksi" : "MPa";
  words.force_number = [us](double n) { return us ? n / pound_force : n; };
  words.force_unit = us ? "lbf" : "N";
  words.length_number = [us](double m) { return us ? m / inch : 1e3 * m; };
  words.temperature_number = [us](double t) { return us ? 1.8 * t + 32.0 : t; };
  words.length_unit = us ? "in" : "mm";
  words.temperature_unit = us ? "degF" : "degC";
  return words;
}

} // namespace hangtrue
