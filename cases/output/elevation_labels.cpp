// SPDX-License-Identifier: GPL-3.0-or-later
#include "cases/output/elevation_labels.hpp"

#include "cases/input/units.hpp"

#include <fmt/format.h>

namespace hangtrue::output
{

figures::ElevationFormatter elevation_formatter(input::UnitSystem units)
{
  return {[units](double m) { return input::format_quantity(m, input::Dimension::length, units); },
          [units](double m) {
            return units == input::UnitSystem::us ? input::tape_fraction(m) + " in"
                                                  : fmt::format("{:.0f} mm", 1e3 * m);
          },
          [units](double n) { return input::format_short(n, input::Dimension::force, units); }};
}

} // namespace hangtrue::output
