#include "cases/output/elevation_labels.hpp"

#include "cases/input/units.hpp"

#include <fmt/format.h>

namespace hangtrue
{

DrawingWords words_in(Units units)
{
  return {[units](double m) { return format_quantity(m, Kind::length, units); },
          [units](double m) {
            return units == Units::us ? tape_fraction(m) + " in"
                                      : fmt::format("{:.0f} mm", 1e3 * m);
          },
          [units](double n) { return format_short(n, Kind::force, units); }};
}

} // namespace hangtrue
