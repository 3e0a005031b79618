#include "solver/contact/latch_model.hpp"

#include <cmath>

namespace hangtrue
{

Vec3 latch_place(const Door& door, const Latch& latch)
{
  const double y = depth(door);
  switch (latch.edge) {
  case FreeEdge::latch:
    return {door.panel.width - latch.inset, y, latch.at};
  case FreeEdge::lower:
    return {latch.at, y, latch.inset};
  case FreeEdge::upper:
    return {latch.at, y, door.panel.height - latch.inset};
  }
  return {};
}

double hand_force(const Latch& latch, double force)
{
  const double reach = latch.arm / latch.lever;
  if (latch.kind == LatchKind::over_centre)
    return force * reach;
  return force * std::tan(latch.lead + std::atan(latch.friction)) * reach;
}

bool holds_itself(const Latch& latch)
{
  return latch.kind == LatchKind::over_centre || latch.lead < std::atan(latch.friction);
}

} // namespace hangtrue
