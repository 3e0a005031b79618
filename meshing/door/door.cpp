// SPDX-License-Identifier: GPL-3.0-or-later
#include "meshing/door/door.hpp"

#include <algorithm>
#include <numeric>

namespace hangtrue::door
{

double depth(const Door& door)
{
  return rim_start(door) + door.rim.depth + door.panel.outer_skin;
}

bool can_close(const Door& door)
{
  return !door.gasket.curve.empty() && !door.latches.empty();
}

double rim_start(const Door& door)
{
  return door.panel.inner_skin + door.strip.thickness;
}

double rim_middle(const Door& door)
{
  return rim_start(door) + 0.5 * door.rim.depth;
}

namespace
{

double knuckle_total(const Hinge& hinge)
{
  const double steel = std::accumulate(hinge.knuckles.begin(), hinge.knuckles.end(), 0.0,
                                       [](double sum, const Knuckle& k) { return sum + k.length; });
  const auto gaps = static_cast<double>(std::max<std::size_t>(hinge.knuckles.size(), 1) - 1);
  return steel + gaps * hinge.knuckle_gap;
}

} // namespace

double knuckle_start(const Hinge& hinge, int k)
{
  double z = hinge.position - 0.5 * knuckle_total(hinge);
  for (int i = 0; i < k; ++i)
    z += hinge.knuckles[i].length + hinge.knuckle_gap;
  return z;
}

Span hinge_span(const Hinge& hinge)
{
  const double total = knuckle_total(hinge);
  const double length =
      hinge.kind == HingeKind::barrels ? std::max(total, hinge.leaf.length) : total;
  return {hinge.position - 0.5 * length, hinge.position + 0.5 * length};
}

double outside_radius(const Hinge& hinge)
{
  return 0.5 * hinge.outside_diameter;
}

double bore_radius(const Hinge& hinge)
{
  return 0.5 * (hinge.pin_diameter + hinge.clearance);
}

double pin_radius(const Hinge& hinge)
{
  return 0.5 * hinge.pin_diameter;
}

AxisPosition pin_axis(const Door& door, const Hinge& hinge)
{
  return {-0.5 * door.reveal, depth(door) + hinge.leaf.standoff};
}

} // namespace hangtrue::door
