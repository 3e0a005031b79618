#include "cases/verdict/end_float_quantities.hpp"

#include "cases/input/units.hpp"
#include "solver/contact/end_float.hpp"
#include "solver/elasticity/nodal_loads.hpp"
#include "solver/material/steel_properties.hpp"

#include <fmt/format.h>
#include <fmt/ranges.h>

#include <algorithm>
#include <cmath>
#include <numbers>
#include <optional>

namespace hangtrue
{

namespace
{

constexpr double pi = std::numbers::pi;
constexpr double bound_share = 0.1; // of the weight

double yield_at(const Steel& steel, double temperature)
{
  return steel.yield * reduction(steel, temperature).yield;
}

double ring_core(const Hinge& hinge)
{
  const double outer = outside_radius(hinge);
  const double inner = bore_radius(hinge);
  return (outer * outer + inner * inner) / (4.0 * outer);
}

// Which hinges lift the door and which hold it down.
std::string bound_words(const DoorCase& c, const AxialPlay& axial)
{
  std::vector<std::string> words;
  for (const auto& at : axial.hinges) {
    if (at.rests > 0.0)
      words.push_back(fmt::format("hinge {} lifts the door with {}", at.hinge + 1,
                                  format_short(at.rests, Kind::force, c.units)));
    if (at.held > 0.0)
      words.push_back(fmt::format("hinge {} holds it down with {}", at.hinge + 1,
                                  format_short(at.held, Kind::force, c.units)));
  }
  return fmt::format("{}", fmt::join(words, ", "));
}

// Force at the latch edge that a hand needs against friction on the thrust faces.
std::string friction_words(const DoorCase& c, const AxialPlay& axial)
{
  const double lever = c.door.panel.width - pin_axis(c.door, c.door.hinges.front()).x;
  const auto hand = [&](double friction) {
    return format_short(friction_torque(axial, friction) / lever, Kind::force, c.units);
  };
  return fmt::format("friction on the thrust faces asks {} to {} at the latch edge to swing it "
                     "({} greased to {} dry, common practice, no source; bores come on top)",
                     hand(greased_friction), hand(dry_friction), greased_friction, dry_friction);
}

bool is_bound(const FloatState& s)
{
  return s.axial.locked > bound_share * s.weight;
}

void add_float(const DoorCase& c, const FloatState& s, std::vector<QuantityOfInterest>& all)
{
  const HingeFloat* worst = tightest(s.axial);
  const auto length = [&](double v) { return format_short(v, Kind::length, c.units); };
  std::string reason = fmt::format(
      "hinge {}: it needs an end float of {} so that the weight stays where it is drawn to rest",
      worst->hinge + 1, length(worst->needed));
  if (c.door.hanging != Hanging::side)
    reason = fmt::format("hinge {} against another: each needs an end float of {}",
                         worst->hinge + 1, length(worst->needed));
  if (worst->taken > worst->room)
    reason +=
        is_bound(s) ? "; bound: " + bound_words(c, s.axial) : "; so " + bound_words(c, s.axial);
  for (const auto& at : s.axial.hinges) {
    reason += fmt::format("; left at hinge {}:", at.hinge + 1);
    if (at.has_rest)
      reason += fmt::format(" {} under the door", length(at.below));
    if (at.has_hold)
      reason += fmt::format("{} {} over it", at.has_rest ? "," : "", length(at.above));
  }
  if (s.warm && worst->hand > 0.0)
    reason += fmt::format("; by hand {} (strain at the pin axis x distance)", length(worst->hand));
  all.push_back(
      limited({s.state, Quantity::end_float}, worst->taken,
              {worst->room, c.door.hanging == Hanging::side
                                ? "the end float as drawn, half of it where the door does not rest"
                                : "the end float as drawn of both hinges on that side"},
              reason));
  all.back().scale = worst->room; // a difference of displacements as large as its play
}

void add_bound(const DoorCase& c, const FloatState& s, std::vector<QuantityOfInterest>& all)
{
  std::string reason = "thrust faces do not press against each other";
  if (s.axial.locked > 0.0)
    reason = bound_words(c, s.axial) + "; " + friction_words(c, s.axial);
  all.push_back(
      limited({s.state, Quantity::bound_hinges}, s.axial.locked,
              {bound_share * s.weight, "a tenth of the door's weight, design rule of this program"},
              reason));
}

void add_faces(const DoorCase& c, const FloatState& s, std::vector<QuantityOfInterest>& all)
{
  // AISC 360 J7: 1.8 f_y on the bearing area over 2.00 (from memory).
  const double limit = 0.9 * yield_at(c.door.steel, s.hinge_temperature);
  double worst = 0.0;
  std::string reason = "no thrust face presses";
  for (const auto& face : s.axial.faces) {
    const Hinge& hinge = c.door.hinges[face.hinge];
    const double pressure = face_pressure(hinge, face.push, face.off);
    if (pressure <= worst)
      continue;
    worst = pressure;
    reason =
        fmt::format("hinge {}, between knuckles {} and {} from below: {}", face.hinge + 1,
                    face.knuckle, face.knuckle + 1, format_short(face.push, Kind::force, c.units));
    if (face.off > ring_core(hinge))
      reason += fmt::format(
          " on one side of the ring, half of which is taken to bear; its edge flattens by {} "
          "until it does",
          format_short(edge_flattening(hinge, face.push, face.tilt, limit), Kind::length, c.units));
  }
  all.push_back(limited({s.state, Quantity::thrust_face}, worst,
                        {limit, "0.9 fy, AISC 360 J7 (1.8 / 2.00, from memory)"}, reason));
}

// A floating pin hangs from its head, and with head and cotter it ties its outer knuckles together.
void add_heads(const DoorCase& c, const FloatState& s, std::vector<QuantityOfInterest>& all)
{
  const Door& door = c.door;
  const double along = std::abs(gravity_direction(door).z);
  double use = 0.0;
  std::optional<QuantityOfInterest> worst;
  for (const auto& at : s.axial.hinges) {
    const Hinge& hinge = door.hinges[at.hinge];
    if (hinge.pin != PinHold::floating)
      continue;
    const Span span = hinge_span(hinge);
    const double radius = pin_radius(hinge);
    const double pin =
        door.pin_steel.density * pi * radius * radius * (span.to - span.from) * standard_gravity;
    const double carries = along * pin + at.held;
    const double limit = cotter_shear(hinge, yield_at(door.pin_steel, s.hinge_temperature));
    if (worst && carries / limit <= use)
      continue;
    use = carries / limit;
    std::string reason = fmt::format("hinge {}: the pin hangs from it with {}", at.hinge + 1,
                                     format_short(along * pin, Kind::force, c.units));
    if (at.held > 0.0)
      reason +=
          fmt::format("; without play of its own it ties the knuckles together that {} drives "
                      "apart",
                      format_short(at.held, Kind::force, c.units));
    worst = limited({s.state, Quantity::pin_head}, carries,
                    {limit, "a cotter of 3/16 of the pin in double shear, 0.40 fy (from "
                            "memory, as on clevis pins)"},
                    reason);
  }
  if (worst)
    all.push_back(*worst);
}

} // namespace

double face_pressure(const Hinge& hinge, double push, double off)
{
  const double outer = outside_radius(hinge);
  const double inner = bore_radius(hinge);
  const double area = pi * (outer * outer - inner * inner);
  return push / area * (1.0 + std::min(1.0, off / ring_core(hinge)));
}

double edge_flattening(const Hinge& hinge, double push, double tilt, double pressure)
{
  const double segment = push / pressure;
  const double depth = std::pow(0.75 * segment / std::sqrt(2.0 * outside_radius(hinge)), 2.0 / 3.0);
  return tilt * depth;
}

double cotter_shear(const Hinge& hinge, double yield)
{
  const double diameter = 3.0 / 16.0 * hinge.pin_diameter;
  return 2.0 * 0.25 * pi * diameter * diameter * 0.4 * yield;
}

const HingeFloat* tightest(const AxialPlay& axial)
{
  const HingeFloat* worst = nullptr;
  double most = -1.0;
  for (const auto& at : axial.hinges) {
    const double use = at.room > 0.0 ? at.taken / at.room : (at.taken > 0.0 ? 1e9 : 0.0);
    if (use > most) {
      most = use;
      worst = &at;
    }
  }
  return worst;
}

void add_end_float(const DoorCase& door_case, const FloatState& state,
                   std::vector<QuantityOfInterest>& all)
{
  if (state.axial.hinges.empty())
    return;
  add_float(door_case, state, all);
  add_bound(door_case, state, all);
  add_faces(door_case, state, all);
  add_heads(door_case, state, all);
}

bool is_of_end_float(Quantity quantity)
{
  return quantity == Quantity::end_float || quantity == Quantity::bound_hinges ||
         quantity == Quantity::thrust_face || quantity == Quantity::pin_head;
}

} // namespace hangtrue
