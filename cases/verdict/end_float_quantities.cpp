// SPDX-License-Identifier: GPL-3.0-or-later
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

namespace hangtrue::verdict
{

namespace
{

constexpr double pi = std::numbers::pi;
constexpr double bound_share = 0.1; // of the weight

double yield_at(const door::Steel& steel, double temperature)
{
  return steel.yield * material::reduction(steel, temperature).yield;
}

double ring_core(const door::Hinge& hinge)
{
  const double outer = door::outside_radius(hinge);
  const double inner = door::bore_radius(hinge);
  return (outer * outer + inner * inner) / (4.0 * outer);
}

// Which hinges lift the door and which hold it down.
std::string bound_text(const input::DoorCase& c, const contact::AxialPlay& axial)
{
  std::vector<std::string> words;
  for (const auto& at : axial.hinges) {
    if (at.rests > 0.0)
      words.push_back(fmt::format("hinge {} lifts the door with {}", at.hinge + 1,
                                  input::format_short(at.rests, input::Dimension::force, c.units)));
    if (at.held > 0.0)
      words.push_back(fmt::format("hinge {} holds it down with {}", at.hinge + 1,
                                  input::format_short(at.held, input::Dimension::force, c.units)));
  }
  return fmt::format("{}", fmt::join(words, ", "));
}

// Force at the latch edge that a hand needs against friction on the thrust faces.
std::string friction_text(const input::DoorCase& c, const contact::AxialPlay& axial)
{
  const double lever = c.door.panel.width - door::pin_axis(c.door, c.door.hinges.front()).x;
  const auto hand = [&](double friction) {
    return input::format_short(contact::friction_torque(axial, friction) / lever,
                               input::Dimension::force, c.units);
  };
  return fmt::format("friction on the thrust faces asks {} to {} at the latch edge to swing it "
                     "({} greased to {} dry, common practice, no source; bores come on top)",
                     hand(greased_friction), hand(dry_friction), greased_friction, dry_friction);
}

bool is_bound(const EndFloatState& s)
{
  return s.axial.locked > bound_share * s.weight;
}

void add_float(const input::DoorCase& c, const EndFloatState& s,
               std::vector<QuantityOfInterest>& all)
{
  const contact::HingeEndFloat* worst = tightest(s.axial);
  const auto length = [&](double v) {
    return input::format_short(v, input::Dimension::length, c.units);
  };
  std::string reason = fmt::format(
      "hinge {}: it needs an end float of {} so that the weight stays where it is drawn to rest",
      worst->hinge + 1, length(worst->required));
  if (c.door.hanging != door::HingeEdge::side)
    reason = fmt::format("hinge {} against another: each needs an end float of {}",
                         worst->hinge + 1, length(worst->required));
  if (worst->taken > worst->room)
    reason += is_bound(s) ? "; bound: " + bound_text(c, s.axial) : "; so " + bound_text(c, s.axial);
  for (const auto& at : s.axial.hinges) {
    reason += fmt::format("; left at hinge {}:", at.hinge + 1);
    if (at.has_rest)
      reason += fmt::format(" {} under the door", length(at.below));
    if (at.has_hold)
      reason += fmt::format("{} {} over it", at.has_rest ? "," : "", length(at.above));
  }
  if (s.is_thermal && worst->hand_estimate > 0.0)
    reason += fmt::format("; by hand {} (strain at the pin axis x distance)",
                          length(worst->hand_estimate));
  all.push_back(
      limited({s.state, qoi::Quantity::end_float}, worst->taken,
              {worst->room, c.door.hanging == door::HingeEdge::side
                                ? "the end float as drawn, half of it where the door does not rest"
                                : "the end float as drawn of both hinges on that side"},
              reason));
  all.back().scale = worst->room; // a difference of displacements as large as its play
}

void add_bound(const input::DoorCase& c, const EndFloatState& s,
               std::vector<QuantityOfInterest>& all)
{
  std::string reason = "thrust faces do not press against each other";
  if (s.axial.locked > 0.0)
    reason = bound_text(c, s.axial) + "; " + friction_text(c, s.axial);
  all.push_back(
      limited({s.state, qoi::Quantity::bound_hinges}, s.axial.locked,
              {bound_share * s.weight, "a tenth of the door's weight, design rule of this program"},
              reason));
}

void add_faces(const input::DoorCase& c, const EndFloatState& s,
               std::vector<QuantityOfInterest>& all)
{
  // AISC 360 J7: 1.8 f_y on the bearing area over 2.00 (from memory).
  const double limit = 0.9 * yield_at(c.door.steel, s.hinge_temperature);
  double worst = 0.0;
  std::string reason = "no thrust face presses";
  for (const auto& face : s.axial.faces) {
    const door::Hinge& hinge = c.door.hinges[face.hinge];
    const double pressure = face_pressure(hinge, face.contact_force, face.off);
    if (pressure <= worst)
      continue;
    worst = pressure;
    reason = fmt::format("hinge {}, between knuckles {} and {} from below: {}", face.hinge + 1,
                         face.knuckle, face.knuckle + 1,
                         input::format_short(face.contact_force, input::Dimension::force, c.units));
    if (face.off > ring_core(hinge))
      reason += fmt::format(
          " on one side of the ring, half of which is taken to bear; its edge flattens by {} "
          "until it does",
          input::format_short(edge_flattening(hinge, face.contact_force, face.tilt, limit),
                              input::Dimension::length, c.units));
  }
  all.push_back(limited({s.state, qoi::Quantity::thrust_face}, worst,
                        {limit, "0.9 fy, AISC 360 J7 (1.8 / 2.00, from memory)"}, reason));
}

// A floating pin hangs from its head, and with head and cotter it ties its outer knuckles together.
void add_heads(const input::DoorCase& c, const EndFloatState& s,
               std::vector<QuantityOfInterest>& all)
{
  const door::Door& door = c.door;
  const double along = std::abs(elasticity::gravity_direction(door).z);
  double use = 0.0;
  std::optional<QuantityOfInterest> worst;
  for (const auto& at : s.axial.hinges) {
    const door::Hinge& hinge = door.hinges[at.hinge];
    if (hinge.fixity != door::PinFixity::floating)
      continue;
    const door::Span span = door::hinge_span(hinge);
    const double radius = door::pin_radius(hinge);
    const double pin = door.pin_steel.density * pi * radius * radius * (span.to - span.from) *
                       elasticity::standard_gravity;
    const double carries = along * pin + at.held;
    const double limit = cotter_shear(hinge, yield_at(door.pin_steel, s.hinge_temperature));
    if (worst && carries / limit <= use)
      continue;
    use = carries / limit;
    std::string reason =
        fmt::format("hinge {}: the pin hangs from it with {}", at.hinge + 1,
                    input::format_short(along * pin, input::Dimension::force, c.units));
    if (at.held > 0.0)
      reason +=
          fmt::format("; without play of its own it ties the knuckles together that {} drives "
                      "apart",
                      input::format_short(at.held, input::Dimension::force, c.units));
    worst = limited({s.state, qoi::Quantity::pin_head}, carries,
                    {limit, "a cotter of 3/16 of the pin in double shear, 0.40 fy (from "
                            "memory, as on clevis pins)"},
                    reason);
  }
  if (worst)
    all.push_back(*worst);
}

} // namespace

double face_pressure(const door::Hinge& hinge, double contact_force, double off)
{
  const double outer = door::outside_radius(hinge);
  const double inner = door::bore_radius(hinge);
  const double area = pi * (outer * outer - inner * inner);
  return contact_force / area * (1.0 + std::min(1.0, off / ring_core(hinge)));
}

double edge_flattening(const door::Hinge& hinge, double contact_force, double tilt, double pressure)
{
  const double segment = contact_force / pressure;
  const double depth =
      std::pow(0.75 * segment / std::sqrt(2.0 * door::outside_radius(hinge)), 2.0 / 3.0);
  return tilt * depth;
}

double cotter_shear(const door::Hinge& hinge, double yield)
{
  const double diameter = 3.0 / 16.0 * hinge.pin_diameter;
  return 2.0 * 0.25 * pi * diameter * diameter * 0.4 * yield;
}

const contact::HingeEndFloat* tightest(const contact::AxialPlay& axial)
{
  const contact::HingeEndFloat* worst = nullptr;
  double maximum = -1.0;
  for (const auto& at : axial.hinges) {
    const double use = at.room > 0.0 ? at.taken / at.room : (at.taken > 0.0 ? 1e9 : 0.0);
    if (use > maximum) {
      maximum = use;
      worst = &at;
    }
  }
  return worst;
}

void add_end_float(const input::DoorCase& door_case, const EndFloatState& state,
                   std::vector<QuantityOfInterest>& all)
{
  if (state.axial.hinges.empty())
    return;
  add_float(door_case, state, all);
  add_bound(door_case, state, all);
  add_faces(door_case, state, all);
  add_heads(door_case, state, all);
}

bool is_of_end_float(qoi::Quantity quantity)
{
  return quantity == qoi::Quantity::end_float || quantity == qoi::Quantity::bound_hinges ||
         quantity == qoi::Quantity::thrust_face || quantity == qoi::Quantity::pin_head;
}

} // namespace hangtrue::verdict
