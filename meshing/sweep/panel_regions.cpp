#include "meshing/sweep/panel_regions.hpp"

#include <algorithm>
#include <cmath>

namespace hangtrue
{

namespace
{

enum class Tube { outside, wall, hollow };

// `across` from the nearer side of the tube in the plane of the door, `through` from the nearer
// skin.
Tube tube_at(double across, double width, double through, double wall)
{
  if (across < 0.0 || across > width)
    return Tube::outside;
  if (across < wall || across > width - wall || through < wall)
    return Tube::wall;
  return Tube::hollow;
}

Tube stiffener_at(const Stiffener& s, double place, double through)
{
  const double across = place - (s.at - 0.5 * s.width);
  if (s.shape == StiffenerShape::flat_bar)
    return across > 0.0 && across < s.width ? Tube::wall : Tube::outside;
  return tube_at(across, s.width, through, s.wall);
}

} // namespace

Part panel_part(const Door& door, double x, double y, double z)
{
  const double d = depth(door);
  if (y < door.panel.inner_skin)
    return Part::inner_skin;
  if (y > d - door.panel.outer_skin)
    return Part::outer_skin;
  const double start = rim_start(door);
  if (y < start) // there is break strip wherever steel is behind it
    return panel_part(door, x, rim_middle(door), z) == Part::insulation ? Part::insulation
                                                                        : Part::strip;
  const double through = std::min(y - start, d - door.panel.outer_skin - y);
  const double from_edge = std::min({x, door.panel.width - x, z, door.panel.height - z});
  const Tube rim = tube_at(from_edge, door.rim.width, through, door.rim.wall);
  if (rim == Tube::wall)
    return Part::rim;
  if (rim == Tube::hollow)
    return Part::hollow;

  bool hollow = false;
  for (const auto& s : door.stiffeners) {
    const Tube here = stiffener_at(s, s.run == StiffenerRun::along ? x : z, through);
    if (here == Tube::wall)
      return Part::stiffener;
    hollow = hollow || here == Tube::hollow;
  }
  return hollow ? Part::hollow : Part::insulation;
}

} // namespace hangtrue
