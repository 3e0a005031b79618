// SPDX-License-Identifier: GPL-3.0-or-later
#include "solver/contact/end_float.hpp"

#include "solver/material/steel_properties.hpp"

#include <algorithm>
#include <cmath>
#include <limits>

namespace hangtrue::contact
{

namespace
{

constexpr double none = std::numeric_limits<double>::infinity(); // m: no face on that side

bool holds_down(const door::Door& door, const ContactPair& pair)
{
  return door.hinges[pair.hinge].knuckles[pair.knuckle].owner == door::KnuckleOwner::frame;
}

double nominal_gap(const door::Door& door, const std::vector<EndFloatSetting>& floats,
                   const ContactPair& pair)
{
  door::Hinge hinge;
  hinge.end_float = floats[pair.hinge].end_float;
  hinge.carries_weight = floats[pair.hinge].bears_weight;
  return thrust_gap(hinge, door.hinges[pair.hinge].knuckles[pair.knuckle].owner);
}

// Least of a value over the faces of a hinge on either side.
struct Sides {
  double rest = none;
  double hold = none;
};

template <typename ValueOf>
std::vector<Sides> minimum_of(const door::Door& door, const std::vector<ContactPair>& pairs,
                              const ValueOf& value_of)
{
  std::vector<Sides> minimum(door.hinges.size());
  for (std::size_t p = 0; p < pairs.size(); ++p) {
    if (pairs[p].kind != ContactKind::thrust)
      continue;
    Sides& sides = minimum[pairs[p].hinge];
    double& side = holds_down(door, pairs[p]) ? sides.hold : sides.rest;
    side = std::min(side, value_of(p));
  }
  return minimum;
}

// N: a contact force counts when it is more than rounding of the greatest.
double min_contact_force(const AxialSolution& solution)
{
  constexpr double rounding = 1e-9;
  return rounding * *std::max_element(solution.contact_force.begin(), solution.contact_force.end());
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

// One face from its pairs, of which those press whose contact force is more than `minimum`, N.
ThrustFace face_of(const door::Door& door, const AxialSolution& solution,
                   const std::vector<int>& members, double minimum)
{
  const ContactPair& first = solution.points[members.front()];
  const door::AxisPosition axis = door::pin_axis(door, door.hinges[first.hinge]);
  ThrustFace face{first.hinge, first.knuckle, holds_down(door, first)};
  Vec3 moment;
  std::vector<Vec3> places;
  std::vector<double> gaps;
  for (const int p : members) {
    const Vec3 from_axis = solution.points[p].place - Vec3{axis.x, axis.y, 0.0};
    places.push_back(from_axis);
    gaps.push_back(solution.gap[p]);
    const double contact_force = solution.contact_force[p];
    if (!(contact_force > minimum))
      continue;
    face.contact_force += contact_force;
    moment += contact_force * from_axis;
    face.arm += contact_force * std::hypot(from_axis.x, from_axis.y);
  }
  if (face.contact_force > 0.0) {
    face.off = std::hypot(moment.x, moment.y) / face.contact_force;
    face.arm /= face.contact_force;
    face.tilt = slope_of(places, gaps);
  }
  return face;
}

// Members of the faces among the pairs. Pairs between nodes come after all others in the list.
std::vector<std::vector<int>> faces_of(const std::vector<ContactPair>& pairs)
{
  std::vector<std::vector<int>> faces;
  for (std::size_t p = 0; p < pairs.size(); ++p) {
    if (pairs[p].kind != ContactKind::thrust)
      continue;
    auto face = std::find_if(faces.begin(), faces.end(), [&](const std::vector<int>& members) {
      const ContactPair& first = pairs[members.front()];
      return first.hinge == pairs[p].hinge && first.knuckle == pairs[p].knuckle;
    });
    if (face == faces.end())
      face = faces.insert(faces.end(), std::vector<int>{});
    face->push_back(static_cast<int>(p));
  }
  return faces;
}

bool some_carry(const std::vector<EndFloatSetting>& floats)
{
  return std::any_of(floats.begin(), floats.end(),
                     [](const EndFloatSetting& f) { return f.bears_weight; });
}

// The side of a hinge's thrust faces that the weight rests on, or the one that holds it down.
enum class Side { rest, hold };

// Fraction of the end float that lies on one side as drawn.
double share_of(const door::Hinge& hinge, Side side)
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
void keep_tighter(double taken, double room, double share, HingeEndFloat& at)
{
  if (!std::isfinite(taken))
    return;
  // Of two that take nothing away the first.
  const bool first = at.room == 0.0 && at.taken == 0.0 && at.required == 0.0;
  const double use = std::max(0.0, taken) / std::max(room, 1e-9);
  const double so_far = at.taken / std::max(at.room, 1e-9);
  if (first || use > so_far) {
    at.taken = std::max(0.0, taken);
    at.room = room;
  }
  if (share > 0.0)
    at.required = std::max(at.required, taken / share);
}

} // namespace

std::vector<EndFloatSetting> end_floats_of(const door::Door& door)
{
  std::vector<EndFloatSetting> floats;
  floats.reserve(door.hinges.size());
  for (const auto& hinge : door.hinges)
    floats.push_back({hinge.end_float, hinge.carries_weight});
  return floats;
}

door::Door with_end_floats(door::Door door, const std::vector<EndFloatSetting>& floats)
{
  for (std::size_t h = 0; h < floats.size(); ++h) {
    door.hinges[h].end_float = floats[h].end_float;
    door.hinges[h].carries_weight = floats[h].bears_weight;
  }
  return door;
}

std::vector<EndFloatSetting> ample_end_floats(const door::Door& door)
{
  constexpr double ample = 0.2; // m
  std::vector<EndFloatSetting> floats = end_floats_of(door);
  for (auto& f : floats)
    f.end_float = ample;
  return floats;
}

std::vector<EndFloatSetting> with_one_bearing_hinge(const door::Door& door)
{
  std::vector<EndFloatSetting> floats = ample_end_floats(door);
  const bool drawn = some_carry(floats);
  std::size_t lowest = floats.size();
  for (std::size_t h = 0; h < floats.size(); ++h)
    if ((floats[h].bears_weight || !drawn) &&
        (lowest == floats.size() || door.hinges[h].position < door.hinges[lowest].position))
      lowest = h;
  for (std::size_t h = 0; h < floats.size(); ++h)
    floats[h].bears_weight = h == lowest;
  return floats;
}

std::vector<std::pair<int, double>> thrust_gaps(const door::Door& door,
                                                const std::vector<EndFloatSetting>& floats,
                                                const std::vector<ContactPair>& pairs)
{
  std::vector<std::pair<int, double>> gaps;
  for (std::size_t p = 0; p < pairs.size(); ++p)
    if (pairs[p].kind == ContactKind::thrust)
      gaps.emplace_back(static_cast<int>(p), nominal_gap(door, floats, pairs[p]));
  return gaps;
}

bool rests_as_drawn(const door::Door& door, const AxialSolution& solution)
{
  const double minimum = min_contact_force(solution);
  for (std::size_t p = 0; p < solution.points.size(); ++p) {
    const ContactPair& pair = solution.points[p];
    if (pair.kind == ContactKind::thrust && solution.contact_force[p] > minimum &&
        (holds_down(door, pair) || !solution.floats[pair.hinge].bears_weight))
      return false;
  }
  return true;
}

AxialPlay axial_play(const door::Door& door, const AxialSolution& solution)
{
  AxialPlay play;
  const auto left =
      minimum_of(door, solution.points, [&](std::size_t p) { return solution.gap[p]; });
  for (std::size_t h = 0; h < left.size(); ++h) {
    HingeEndFloat at;
    at.hinge = static_cast<int>(h);
    at.has_rest = left[h].rest < none;
    at.has_hold = left[h].hold < none;
    at.below = at.has_rest ? std::max(0.0, left[h].rest) : 0.0;
    at.above = at.has_hold ? std::max(0.0, left[h].hold) : 0.0;
    play.hinges.push_back(at);
  }
  double lifts = 0.0;
  double holds = 0.0;
  const double minimum = min_contact_force(solution);
  for (const auto& members : faces_of(solution.points)) {
    const ThrustFace face = face_of(door, solution, members, minimum);
    if (face.contact_force <= 0.0)
      continue;
    HingeEndFloat& at = play.hinges[face.hinge];
    (face.holds ? at.held : at.rests) += face.contact_force;
    (face.holds ? holds : lifts) += face.contact_force;
    play.faces.push_back(face);
  }
  play.locked = std::min(lifts, holds);
  return play;
}

void add_required_end_float(const door::Door& door, const AxialSolution& free, AxialPlay& play)
{
  const auto opened = minimum_of(door, free.points, [&](std::size_t p) {
    return free.gap[p] - nominal_gap(door, free.floats, free.points[p]);
  });
  std::vector<Nearer> nearer;
  for (const auto& sides : opened)
    nearer.push_back({-sides.rest, -sides.hold});
  const bool upright = door.hanging == door::HingeEdge::side && some_carry(end_floats_of(door));
  for (std::size_t h = 0; h < nearer.size(); ++h) {
    const door::Hinge& hinge = door.hinges[h];
    HingeEndFloat& at = play.hinges[h];
    if (upright) {
      if (!hinge.carries_weight)
        keep_tighter(nearer[h].rest, share_of(hinge, Side::rest) * hinge.end_float,
                     share_of(hinge, Side::rest), at);
      keep_tighter(nearer[h].hold, share_of(hinge, Side::hold) * hinge.end_float,
                   share_of(hinge, Side::hold), at);
      continue;
    }
    for (std::size_t o = 0; o < nearer.size(); ++o) {
      const door::Hinge& other = door.hinges[o];
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

bool exceeds_end_float(const AxialPlay& play)
{
  return std::any_of(play.hinges.begin(), play.hinges.end(),
                     [](const HingeEndFloat& at) { return at.taken > at.room; });
}

double strain_at_pin(const door::Door& door, const door::Hinge& hinge,
                     const heat::TemperatureSummary& summary)
{
  const double inner = material::elongation(door.steel, summary.inner_skin);
  const double outer = material::elongation(door.steel, summary.outer_skin);
  const double apart = door::depth(door) - 0.5 * (door.panel.inner_skin + door.panel.outer_skin);
  const double beyond = hinge.leaf.standoff + 0.5 * door.panel.outer_skin;
  return outer + (outer - inner) / apart * beyond - material::elongation(door.steel, summary.jamb);
}

void add_hand_check(const door::Door& door, const heat::TemperatureSummary& summary,
                    AxialPlay& play)
{
  for (auto& at : play.hinges) {
    const door::Hinge& hinge = door.hinges[at.hinge];
    double away = hinge.carries_weight ? 0.0 : door.panel.height;
    for (const auto& other : door.hinges)
      if (other.carries_weight)
        away = std::min(away, std::abs(other.position - hinge.position));
    at.hand_estimate = std::abs(strain_at_pin(door, hinge, summary)) * away;
  }
}

double friction_torque(const AxialPlay& play, double friction)
{
  double torque = 0.0;
  for (const auto& face : play.faces)
    torque += friction * face.contact_force * face.arm;
  return torque;
}

} // namespace hangtrue::contact
