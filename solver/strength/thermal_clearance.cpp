#include "solver/strength/thermal_clearance.hpp"

#include "solver/material/steel_properties.hpp"

#include <algorithm>

namespace hangtrue
{

std::vector<HotFit> hot_fits(const Door& door, const Warmth& warmth)
{
  const double pin = elongation(door.pin_steel, warmth.pins);
  const double jamb = elongation(door.steel, warmth.jamb);
  const double tightest = std::min(elongation(door.steel, warmth.knuckles), jamb);
  std::vector<HotFit> fits;
  for (std::size_t h = 0; h < door.hinges.size(); ++h) {
    const Hinge& hinge = door.hinges[h];
    HotFit fit;
    fit.hinge = static_cast<int>(h);
    fit.bore = hinge.clearance + hinge.pin_diameter * (tightest - pin);
    fits.push_back(fit);
  }
  return fits;
}

} // namespace hangtrue
