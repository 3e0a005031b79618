#include "solver/hot_fit.hpp"

#include "solver/steel.hpp"

#include <algorithm>
#include <cmath>

namespace hangtrue
{

std::vector<HotFit> hot_fits(const Door& door, const Warmth& warmth)
{
  const double pin = elongation(door.pin_steel, warmth.pins);
  const double jamb = elongation(door.steel, warmth.jamb);
  const double tightest = std::min(elongation(door.steel, warmth.knuckles), jamb);
  const double edge = elongation(door.steel, warmth.hinge_edge) - jamb;
  std::vector<HotFit> fits;
  for (std::size_t h = 0; h < door.hinges.size(); ++h) {
    const Hinge& hinge = door.hinges[h];
    HotFit fit;
    fit.hinge = static_cast<int>(h);
    fit.bore = hinge.clearance + hinge.pin_diameter * (tightest - pin);
    // The door is held along the axis where it stands: the nearest carrying hinge.
    double away = hinge.carries_weight ? 0.0 : door.panel.height;
    for (const auto& other : door.hinges)
      if (other.carries_weight)
        away = std::min(away, std::abs(other.at - hinge.at));
    const double free = hinge.carries_weight ? hinge.end_float : 0.5 * hinge.end_float;
    fit.along = free - std::abs(edge) * away;
    // Two that both carry: what grows between them lifts one of them off, which only tells when a
    // middle hinge has no room left; that the contact solution shows.
    fits.push_back(fit);
  }
  return fits;
}

} // namespace hangtrue
