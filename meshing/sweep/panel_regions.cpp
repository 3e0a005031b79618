// SPDX-License-Identifier: GPL-3.0-or-later
#include "meshing/sweep/panel_regions.hpp"

#include <algorithm>
#include <cmath>

namespace hangtrue::sweep
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

Tube stiffener_at(const door::Stiffener& s, double place, double through)
{
  const double across = place - (s.position - 0.5 * s.width);
  if (s.shape == door::StiffenerShape::flat_bar)
    return across > 0.0 && across < s.width ? Tube::wall : Tube::outside;
  return tube_at(across, s.width, through, s.wall);
}

} // namespace

mesh::Part panel_part(const door::Door& door, double x, double y, double z)
{
  const double d = door::depth(door);
  if (y < door.panel.inner_skin)
    return mesh::Part::inner_skin;
  if (y > d - door.panel.outer_skin)
    return mesh::Part::outer_skin;
  const double start = door::rim_start(door);
  if (y < start) // there is break strip wherever steel is behind it
    return panel_part(door, x, door::rim_middle(door), z) == mesh::Part::insulation
               ? mesh::Part::insulation
               : mesh::Part::strip;
  const double through = std::min(y - start, d - door.panel.outer_skin - y);
  const double from_edge = std::min({x, door.panel.width - x, z, door.panel.height - z});
  const Tube rim = tube_at(from_edge, door.rim.width, through, door.rim.wall);
  if (rim == Tube::wall)
    return mesh::Part::rim;
  if (rim == Tube::hollow)
    return mesh::Part::hollow;

  bool hollow = false;
  for (const auto& s : door.stiffeners) {
    const Tube here = stiffener_at(s, s.run == door::StiffenerRun::along ? x : z, through);
    if (here == Tube::wall)
      return mesh::Part::stiffener;
    hollow = hollow || here == Tube::hollow;
  }
  return hollow ? mesh::Part::hollow : mesh::Part::insulation;
}

} // namespace hangtrue::sweep
