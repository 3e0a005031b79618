#include "solver/analysis/closed_result.hpp"

#include "solver/contact/latch_model.hpp"

#include <algorithm>
#include <cmath>
#include <limits>

namespace hangtrue
{

GasketSum gasket_sum(const Gasket& gasket, const std::vector<GasketAt>& line)
{
  GasketSum s;
  const double seals = sealing_squeeze(gasket);
  s.least_load = line.front().load;
  s.least_at = s.most_at = line.front().place;
  s.most_squeeze = line.front().squeeze;
  double least_squeeze = line.front().squeeze;
  for (const auto& g : line) {
    s.length += g.length;
    s.total += g.load * g.length;
    s.hottest = std::max(s.hottest, g.temperature);
    s.least_load = std::min(s.least_load, g.load);
    if (g.squeeze < least_squeeze) {
      least_squeeze = g.squeeze;
      s.least_at = g.place;
    }
    if (g.squeeze > s.most_squeeze) {
      s.most_squeeze = g.squeeze;
      s.most_at = g.place;
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

LatchAt latch_result(const Latch& latch, const ContactPoint& point, double push, double gap)
{
  LatchAt found;
  found.place = point.place;
  found.force = push;
  found.hand = hand_force(latch, push);
  found.holds_itself = holds_itself(latch);
  found.slack = push > 0.0 ? 0.0 : std::max(0.0, gap);
  return found;
}

Slide slide_along_pins(const Door& door, const AxialPlay& play)
{
  if (door.hanging == Hanging::side)
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

RevealLeft reveal_left(const Door& door, const BodyMesh& body, const std::vector<int>& nodes,
                       const NodeField& moves, const Slide& slide)
{
  const double w = door.panel.width;
  const double h = door.panel.height;
  RevealLeft left{door.reveal, door.opening.latch, door.opening.lower, door.opening.upper, {}};
  double least = std::numeric_limits<double>::infinity(); // of all edges
  const auto see = [&](double& edge, double gap, const Vec3& place) {
    edge = std::min(edge, gap);
    if (gap < least) {
      least = gap;
      left.least_at = place;
    }
  };
  constexpr double same_place = 1e-7; // m
  for (const int n : nodes) {
    const Vec3& p = body.nodes[n];
    const Vec3& u = moves[n];
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

} // namespace hangtrue
