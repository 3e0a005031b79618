#include "solver/contact/end_float.hpp"

#include "solver/material/steel_properties.hpp"

#include <algorithm>
#include <cmath>
#include <limits>

namespace hangtrue
{

namespace
{

constexpr double none = std::numeric_limits<double>::infinity(); // m: no face on that side

bool holds_down(const Door& door, const ContactPoint& point)
{
  return door.hinges[point.hinge].knuckles[point.knuckle].owner == Owner::frame;
}

double drawn_gap(const Door& door, const std::vector<FloatSetting>& floats,
                 const ContactPoint& point)
{
  Hinge hinge;
  hinge.end_float = floats[point.hinge].end_float;
  hinge.carries_weight = floats[point.hinge].carries;
  return thrust_gap(hinge, door.hinges[point.hinge].knuckles[point.knuckle].owner);
}

// Least of a value over the faces of a hinge on either side.
struct Sides {
  double rest = none;
  double hold = none;
};

template <typename ValueOf>
std::vector<Sides> least_of(const Door& door, const std::vector<ContactPoint>& points,
                            const ValueOf& value_of)
{
  std::vector<Sides> least(door.hinges.size());
  for (std::size_t p = 0; p < points.size(); ++p) {
    if (points[p].kind != ContactKind::thrust)
      continue;
    Sides& sides = least[points[p].hinge];
    double& side = holds_down(door, points[p]) ? sides.hold : sides.rest;
    side = std::min(side, value_of(p));
  }
  return least;
}

// N: a contact force counts when it is more than rounding of the greatest.
double least_push(const AxialSolution& solution)
{
  constexpr double rounding = 1e-9;
  return rounding * *std::max_element(solution.push.begin(), solution.push.end());
}

// Plane through the gaps of one face, by least squares about its middle: its slope, rad.
double slope_of(const std::vector<Vec3>& places, const std::vector<double>& gaps)
{
  const auto n = static_cast<double>(places.size());
  Vec3 middle;
  double mean = 0.0;
  for (std::size_t i = 0; i < places.size(); ++i) {
    middle += (1.0 / n) * places[i];
    mean += gaps[i] / n;
  }
  double xx = 0.0;
  double xy = 0.0;
  double yy = 0.0;
  double xg = 0.0;
  double yg = 0.0;
  for (std::size_t i = 0; i < places.size(); ++i) {
    const Vec3 d = places[i] - middle;
    xx += d.x * d.x;
    xy += d.x * d.y;
    yy += d.y * d.y;
    xg += d.x * (gaps[i] - mean);
    yg += d.y * (gaps[i] - mean);
  }
  const double det = xx * yy - xy * xy;
  return det > 0.0 ? std::hypot(xg * yy - yg * xy, yg * xx - xg * xy) / det : 0.0;
}

// One face from its pairs, of which those press whose contact force is more than `least`, N.
ThrustFace face_of(const Door& door, const AxialSolution& solution, const std::vector<int>& members,
                   double least)
{
  const ContactPoint& first = solution.points[members.front()];
  const AxisPlace axis = pin_axis(door, door.hinges[first.hinge]);
  ThrustFace face{first.hinge, first.knuckle, holds_down(door, first)};
  Vec3 moment;
  std::vector<Vec3> places;
  std::vector<double> gaps;
  for (const int p : members) {
    const Vec3 from_axis = solution.points[p].place - Vec3{axis.x, axis.y, 0.0};
    places.push_back(from_axis);
    gaps.push_back(solution.gap[p]);
    const double push = solution.push[p];
    if (!(push > least))
      continue;
    face.push += push;
    moment += push * from_axis;
    face.arm += push * std::hypot(from_axis.x, from_axis.y);
  }
  if (face.push > 0.0) {
    face.off = std::hypot(moment.x, moment.y) / face.push;
    face.arm /= face.push;
    face.tilt = slope_of(places, gaps);
  }
  return face;
}

// Members of the faces among the pairs. Pairs between nodes come after all others in the list.
std::vector<std::vector<int>> faces_of(const std::vector<ContactPoint>& points)
{
  std::vector<std::vector<int>> faces;
  for (std::size_t p = 0; p < points.size(); ++p) {
    if (points[p].kind != ContactKind::thrust)
      continue;
    auto face = std::find_if(faces.begin(), faces.end(), [&](const std::vector<int>& members) {
      const ContactPoint& first = points[members.front()];
      return first.hinge == points[p].hinge && first.knuckle == points[p].knuckle;
    });
    if (face == faces.end())
      face = faces.insert(faces.end(), std::vector<int>{});
    face->push_back(static_cast<int>(p));
  }
  return faces;
}

bool some_carry(const std::vector<FloatSetting>& floats)
{
  return std::any_of(floats.begin(), floats.end(), [](const FloatSetting& f) { return f.carries; });
}

// The side of a hinge's thrust faces that the weight rests on, or the one that holds it down.
enum class Side { rest, hold };

// Fraction of the end float that lies on one side as drawn.
double share_of(const Hinge& hinge, Side side)
{
  if (hinge.carries_weight)
    return side == Side::hold ? 1.0 : 0.0;
  return 0.5;
}

// How much the faces of a hinge approach each other on either side, m, and the nominal gap.
struct Nearer {
  double rest = -none;
  double hold = -none;
};

// What is used up on one side of a hinge, or on both sides of a pair, against its nominal play.
void keep_tighter(double taken, double room, double share, HingeFloat& at)
{
  if (!std::isfinite(taken))
    return;
  // Of two that take nothing away the first.
  const bool first = at.room == 0.0 && at.taken == 0.0 && at.needed == 0.0;
  const double use = std::max(0.0, taken) / std::max(room, 1e-9);
  const double so_far = at.taken / std::max(at.room, 1e-9);
  if (first || use > so_far) {
    at.taken = std::max(0.0, taken);
    at.room = room;
  }
  if (share > 0.0)
    at.needed = std::max(at.needed, taken / share);
}

} // namespace

std::vector<FloatSetting> floats_of(const Door& door)
{
  std::vector<FloatSetting> floats;
  floats.reserve(door.hinges.size());
  for (const auto& hinge : door.hinges)
    floats.push_back({hinge.end_float, hinge.carries_weight});
  return floats;
}

Door with_floats(Door door, const std::vector<FloatSetting>& floats)
{
  for (std::size_t h = 0; h < floats.size(); ++h) {
    door.hinges[h].end_float = floats[h].end_float;
    door.hinges[h].carries_weight = floats[h].carries;
  }
  return door;
}

std::vector<FloatSetting> ample_floats(const Door& door)
{
  constexpr double ample = 0.2; // m
  std::vector<FloatSetting> floats = floats_of(door);
  for (auto& f : floats)
    f.end_float = ample;
  return floats;
}

std::vector<FloatSetting> one_carries(const Door& door)
{
  std::vector<FloatSetting> floats = ample_floats(door);
  const bool drawn = some_carry(floats);
  std::size_t lowest = floats.size();
  for (std::size_t h = 0; h < floats.size(); ++h)
    if ((floats[h].carries || !drawn) &&
        (lowest == floats.size() || door.hinges[h].at < door.hinges[lowest].at))
      lowest = h;
  for (std::size_t h = 0; h < floats.size(); ++h)
    floats[h].carries = h == lowest;
  return floats;
}

std::vector<std::pair<int, double>> thrust_gaps(const Door& door,
                                                const std::vector<FloatSetting>& floats,
                                                const std::vector<ContactPoint>& points)
{
  std::vector<std::pair<int, double>> gaps;
  for (std::size_t p = 0; p < points.size(); ++p)
    if (points[p].kind == ContactKind::thrust)
      gaps.emplace_back(static_cast<int>(p), drawn_gap(door, floats, points[p]));
  return gaps;
}

bool rests_as_drawn(const Door& door, const AxialSolution& solution)
{
  const double least = least_push(solution);
  for (std::size_t p = 0; p < solution.points.size(); ++p) {
    const ContactPoint& point = solution.points[p];
    if (point.kind == ContactKind::thrust && solution.push[p] > least &&
        (holds_down(door, point) || !solution.floats[point.hinge].carries))
      return false;
  }
  return true;
}

AxialPlay axial_play(const Door& door, const AxialSolution& solution)
{
  AxialPlay play;
  const auto left = least_of(door, solution.points, [&](std::size_t p) { return solution.gap[p]; });
  for (std::size_t h = 0; h < left.size(); ++h) {
    HingeFloat at;
    at.hinge = static_cast<int>(h);
    at.has_rest = left[h].rest < none;
    at.has_hold = left[h].hold < none;
    at.below = at.has_rest ? std::max(0.0, left[h].rest) : 0.0;
    at.above = at.has_hold ? std::max(0.0, left[h].hold) : 0.0;
    play.hinges.push_back(at);
  }
  double lifts = 0.0;
  double holds = 0.0;
  const double least = least_push(solution);
  for (const auto& members : faces_of(solution.points)) {
    const ThrustFace face = face_of(door, solution, members, least);
    if (face.push <= 0.0)
      continue;
    HingeFloat& at = play.hinges[face.hinge];
    (face.holds ? at.held : at.rests) += face.push;
    (face.holds ? holds : lifts) += face.push;
    play.faces.push_back(face);
  }
  play.locked = std::min(lifts, holds);
  return play;
}

void add_needs(const Door& door, const AxialSolution& free, AxialPlay& play)
{
  const auto opened = least_of(door, free.points, [&](std::size_t p) {
    return free.gap[p] - drawn_gap(door, free.floats, free.points[p]);
  });
  std::vector<Nearer> nearer;
  for (const auto& sides : opened)
    nearer.push_back({-sides.rest, -sides.hold});
  const bool upright = door.hanging == Hanging::side && some_carry(floats_of(door));
  for (std::size_t h = 0; h < nearer.size(); ++h) {
    const Hinge& hinge = door.hinges[h];
    HingeFloat& at = play.hinges[h];
    if (upright) {
      if (!hinge.carries_weight)
        keep_tighter(nearer[h].rest, share_of(hinge, Side::rest) * hinge.end_float,
                     share_of(hinge, Side::rest), at);
      keep_tighter(nearer[h].hold, share_of(hinge, Side::hold) * hinge.end_float,
                   share_of(hinge, Side::hold), at);
      continue;
    }
    for (std::size_t o = 0; o < nearer.size(); ++o) {
      const Hinge& other = door.hinges[o];
      const double share = share_of(hinge, Side::rest) + share_of(other, Side::hold);
      const double back = share_of(other, Side::rest) + share_of(hinge, Side::hold);
      keep_tighter(nearer[h].rest + nearer[o].hold,
                   share_of(hinge, Side::rest) * hinge.end_float +
                       share_of(other, Side::hold) * other.end_float,
                   share, at);
      keep_tighter(nearer[o].rest + nearer[h].hold,
                   share_of(other, Side::rest) * other.end_float +
                       share_of(hinge, Side::hold) * hinge.end_float,
                   back, at);
    }
  }
}

bool short_of_float(const AxialPlay& play)
{
  return std::any_of(play.hinges.begin(), play.hinges.end(),
                     [](const HingeFloat& at) { return at.taken > at.room; });
}

double strain_at_pin(const Door& door, const Hinge& hinge, const Warmth& warmth)
{
  const double inner = elongation(door.steel, warmth.inner_skin);
  const double outer = elongation(door.steel, warmth.outer_skin);
  const double apart = depth(door) - 0.5 * (door.panel.inner_skin + door.panel.outer_skin);
  const double beyond = hinge.leaf.standoff + 0.5 * door.panel.outer_skin;
  return outer + (outer - inner) / apart * beyond - elongation(door.steel, warmth.jamb);
}

void add_hand(const Door& door, const Warmth& warmth, AxialPlay& play)
{
  for (auto& at : play.hinges) {
    const Hinge& hinge = door.hinges[at.hinge];
    double away = hinge.carries_weight ? 0.0 : door.panel.height;
    for (const auto& other : door.hinges)
      if (other.carries_weight)
        away = std::min(away, std::abs(other.at - hinge.at));
    at.hand = std::abs(strain_at_pin(door, hinge, warmth)) * away;
  }
}

double friction_torque(const AxialPlay& play, double friction)
{
  double torque = 0.0;
  for (const auto& face : play.faces)
    torque += friction * face.push * face.arm;
  return torque;
}

} // namespace hangtrue
