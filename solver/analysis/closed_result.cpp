// SPDX-License-Identifier: GPL-3.0-or-later
#include "solver/analysis/closed_result.hpp"

#include "solver/contact/latch_model.hpp"

#include <algorithm>
#include <cmath>
#include <limits>

namespace hangtrue::analysis
{

GasketSummary gasket_summary(const door::Gasket& gasket,
                             const std::vector<contact::GasketPoint>& line)
{
  GasketSummary s;
  const double seals = contact::sealing_squeeze(gasket);
  s.min_load = line.front().load;
  s.min_at = s.max_at = line.front().place;
  s.max_squeeze = line.front().squeeze;
  double least_squeeze = line.front().squeeze;
  for (const auto& g : line) {
    s.length += g.length;
    s.total += g.load * g.length;
    s.hottest = std::max(s.hottest, g.temperature);
    s.min_load = std::min(s.min_load, g.load);
    if (g.squeeze < least_squeeze) {
      least_squeeze = g.squeeze;
      s.min_at = g.place;
    }
    if (g.squeeze > s.max_squeeze) {
      s.max_squeeze = g.squeeze;
      s.max_at = g.place;
    }
    s.below_sealing += g.load < gasket.sealing ? g.length : 0.0;
    s.crushed += g.squeeze > gasket.crushing ? g.length : 0.0;
    if (g.squeeze < 0.0) {
      s.open_length += g.length;
      s.largest_gap = std::max(s.largest_gap, -g.squeeze);
      s.leak_area -= g.squeeze * g.length;
    }
    s.short_by = std::max(s.short_by, seals - g.squeeze);
  }
  s.mean_load = s.total / s.length;
  s.below_sealing /= s.length;
  s.crushed /= s.length;
  return s;
}

LatchResult latch_result(const door::Latch& latch, const contact::ContactPair& pair,
                         double contact_force, double gap)
{
  LatchResult found;
  found.place = pair.place;
  found.force = contact_force;
  found.hand = contact::lever_hand_force(latch, contact_force);
  found.self_locking = contact::is_self_locking(latch);
  found.slack = contact_force > 0.0 ? 0.0 : std::max(0.0, gap);
  return found;
}

Slide slide_along_pins(const door::Door& door, const contact::AxialPlay& play)
{
  if (door.hanging == door::HingeEdge::side)
    return {};
  constexpr double none = std::numeric_limits<double>::infinity();
  double to_lower = none;
  double to_upper = none;
  for (const auto& at : play.hinges) {
    to_lower = at.has_rest ? std::min(to_lower, at.below) : to_lower;
    to_upper = at.has_hold ? std::min(to_upper, at.above) : to_upper;
  }
  return {std::isfinite(to_lower) ? to_lower : 0.0, std::isfinite(to_upper) ? to_upper : 0.0};
}

RevealResult reveal_result(const door::Door& door, const mesh::BodyMesh& body,
                           const std::vector<int>& nodes,
                           const elasticity::NodeField& displacements, const Slide& slide)
{
  const double w = door.panel.width;
  const double h = door.panel.height;
  RevealResult left{door.reveal, door.opening.latch, door.opening.lower, door.opening.upper, {}};
  double minimum = std::numeric_limits<double>::infinity(); // of all edges
  const auto see = [&](double& edge, double gap, const Vec3& place) {
    edge = std::min(edge, gap);
    if (gap < minimum) {
      minimum = gap;
      left.min_at = place;
    }
  };
  constexpr double same_place = 1e-7; // m
  for (const int n : nodes) {
    const Vec3& p = body.nodes[n];
    const Vec3& u = displacements[n];
    if (p.x < same_place)
      see(left.hinge, door.reveal + u.x, p);
    if (p.x > w - same_place)
      see(left.latch, door.opening.latch - u.x, p);
    if (p.z < same_place)
      see(left.lower, door.opening.lower + u.z - slide.to_lower, p);
    if (p.z > h - same_place)
      see(left.upper, door.opening.upper - u.z - slide.to_upper, p);
  }
  return left;
}

} // namespace hangtrue::analysis
