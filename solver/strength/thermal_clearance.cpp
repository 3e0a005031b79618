// SPDX-License-Identifier: GPL-3.0-or-later
#include "solver/strength/thermal_clearance.hpp"

#include "solver/material/steel_properties.hpp"

#include <algorithm>

namespace hangtrue::strength
{

std::vector<ThermalClearance> thermal_clearances(const door::Door& door,
                                                 const heat::TemperatureSummary& summary)
{
  const double pin = material::elongation(door.pin_steel, summary.pins);
  const double jamb = material::elongation(door.steel, summary.jamb);
  const double tightest = std::min(material::elongation(door.steel, summary.knuckles), jamb);
  std::vector<ThermalClearance> fits;
  for (std::size_t h = 0; h < door.hinges.size(); ++h) {
    const door::Hinge& hinge = door.hinges[h];
    ThermalClearance fit;
    fit.hinge = static_cast<int>(h);
    fit.bore = hinge.clearance + hinge.pin_diameter * (tightest - pin);
    fits.push_back(fit);
  }
  return fits;
}

} // namespace hangtrue::strength
