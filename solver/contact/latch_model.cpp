// SPDX-License-Identifier: GPL-3.0-or-later
#include "solver/contact/latch_model.hpp"

#include <cmath>

namespace hangtrue::contact
{

Vec3 latch_place(const door::Door& door, const door::Latch& latch)
{
  const double y = door::depth(door);
  switch (latch.edge) {
  case door::FreeEdge::latch:
    return {door.panel.width - latch.inset, y, latch.position};
  case door::FreeEdge::lower:
    return {latch.position, y, latch.inset};
  case door::FreeEdge::upper:
    return {latch.position, y, door.panel.height - latch.inset};
  }
  return {};
}

double lever_hand_force(const door::Latch& latch, double force)
{
  const double reach = latch.arm / latch.lever;
  if (latch.kind == door::LatchKind::over_centre)
    return force * reach;
  return force * std::tan(latch.lead + std::atan(latch.friction)) * reach;
}

bool is_self_locking(const door::Latch& latch)
{
  return latch.kind == door::LatchKind::over_centre || latch.lead < std::atan(latch.friction);
}

} // namespace hangtrue::contact
