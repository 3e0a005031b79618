// SPDX-License-Identifier: GPL-3.0-or-later
#include "cases/verdict/hinge_quantities.hpp"

#include "cases/input/units.hpp"
#include "solver/material/steel_properties.hpp"
#include "solver/strength/strength_formulas.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

namespace hangtrue::verdict
{

namespace
{

// One value of a hinge and what belongs to it.
struct AtHinge {
  double found = 0.0;
  int hinge = 0;
  std::string where;
};

// Of equal ones the first, independent of rounding.
void keep_worse(AtHinge& worst, double found, int hinge, const std::string& where)
{
  constexpr double equal = 1e-9;
  if (found > (1.0 + equal) * worst.found || worst.where.empty())
    worst = {found, hinge, where};
}

double yield_now(const door::Steel& steel, double temperature)
{
  return steel.yield * material::reduction(steel, temperature).yield;
}

constexpr const char* pin_shear_origin = "0.36 of yield or 0.30 of ultimate, the lesser: 0.60 Fy / "
                                         "1.67 and 0.60 Fu / 2.00, AISC 360 G and J4 (from memory)";
constexpr const char* base_metal_origin =
    "0.40 of yield or 0.30 of ultimate, the lesser, on the leg: 0.60 Fy / 1.50 and 0.60 Fu / 2.00, "
    "AISC 360 J2.4 and J4.2 (from memory)";

std::string together_origin(const input::Limit& share)
{
  return "von Mises stress (EN 1993-1-1 6.2.1(5)) against the share of yield: " + share.origin;
}

// As hot as the hinge the weld bears less.
input::Limit weld_limit(const input::Limit& cold, double temperature, input::UnitSystem units)
{
  const double k = material::weld_reduction(temperature);
  if (k == 1.0)
    return cold;
  return {k * cold.value,
          fmt::format("{}; times {:.3f} at {}, EN 1993-1-2 Table D.1 (from memory)", cold.origin, k,
                      input::format_short(temperature, input::Dimension::temperature, units))};
}

void add_pins(const input::DoorCase& c, const HingeState& d, std::vector<QuantityOfInterest>& all)
{
  const double yield = yield_now(d.door.pin_steel, d.hinge_temperature);
  const double ultimate = material::ultimate_at(d.door.pin_steel, d.hinge_temperature);
  AtHinge bending;
  AtHinge shear;
  AtHinge combined;
  for (const auto& pin : d.pins) {
    const double diameter = d.door.hinges[pin.hinge].pin_diameter;
    const std::string where = fmt::format("hinge {}", pin.hinge + 1);
    const std::string moment =
        input::format_short(pin.greatest_bending, input::Dimension::moment, c.units);
    const std::string force =
        input::format_short(pin.greatest_shear, input::Dimension::force, c.units);
    keep_worse(bending, strength::pin_bending_stress(pin.greatest_bending, diameter), pin.hinge,
               fmt::format("{}: moment {}", where, moment));
    keep_worse(shear, strength::pin_shear_stress(pin.greatest_shear, diameter), pin.hinge,
               fmt::format("{}: shear {}", where, force));
    keep_worse(combined,
               strength::pin_combined_stress(pin.greatest_bending, pin.greatest_shear, diameter),
               pin.hinge, fmt::format("{}: moment {}, shear {}", where, moment, force));
  }
  const input::Limit share = c.limits.share_of_yield;
  all.push_back(limited({d.state, qoi::Quantity::pin_bending}, bending.found,
                        {share.value * yield, share.origin}, bending.where));
  all.push_back(limited({d.state, qoi::Quantity::pin_shear}, shear.found,
                        {strength::pin_shear_limit(yield, ultimate), pin_shear_origin},
                        shear.where));
  all.push_back(limited({d.state, qoi::Quantity::pin_combined}, combined.found,
                        {share.value * yield, together_origin(share)}, combined.where));
}

// Position along a knuckle where its pin presses most.
std::string line_load_text(const strength::KnuckleForce& k, input::UnitSystem units)
{
  const bool upper = norm(k.line_load[1]) > norm(k.line_load[0]);
  return fmt::format(
      "{} at its {} end, {} in all",
      input::format_short(k.worst_line_load, input::Dimension::force_per_length, units),
      upper ? "upper" : "lower",
      input::format_short(norm(k.pin_force), input::Dimension::force, units));
}

void add_bearing(const input::DoorCase& c, const HingeState& d,
                 std::vector<QuantityOfInterest>& all)
{
  const door::Door& door = d.door;
  const double yield = std::min(yield_now(door.steel, d.hinge_temperature),
                                yield_now(door.pin_steel, d.hinge_temperature));
  const double modulus =
      door.steel.youngs_modulus * material::reduction(door.steel, d.hinge_temperature).modulus;
  AtHinge bearing;
  AtHinge contact;
  for (const auto& k : d.knuckles) {
    const door::Hinge& hinge = door.hinges[k.hinge];
    const std::string where = fmt::format("hinge {}, knuckle {} from below: {}", k.hinge + 1,
                                          k.knuckle + 1, line_load_text(k, c.units));
    keep_worse(bearing, k.bearing, k.hinge, where);
    keep_worse(contact,
               strength::pin_contact_stress(modulus, k.worst_line_load, hinge.pin_diameter,
                                            hinge.pin_diameter + hinge.clearance, 1.0),
               k.hinge, where);
  }
  all.push_back(limited({d.state, qoi::Quantity::knuckle_bearing}, bearing.found,
                        {0.6 * yield, "0.6 fy, EN 1993-1-8 Table 3.10, replaceable pin"},
                        bearing.where));
  all.push_back(limited({d.state, qoi::Quantity::pin_contact}, contact.found,
                        {2.5 * yield, "2.5 fy, EN 1993-1-8 eq. 3.14 and 3.15, replaceable pin"},
                        contact.where));
}

std::string half_of(door::KnuckleOwner owner)
{
  return owner == door::KnuckleOwner::door ? "door half" : "frame half";
}

// Force per length, N/m, of the fillets round the land of a leaf, or on both sides of a lug.
double foot_line_force(const door::Hinge& hinge, const strength::LeafForces& leaf)
{
  const strength::WeldLines lines =
      hinge.kind == door::HingeKind::barrels
          ? strength::box_weld(hinge.leaf.width, hinge.leaf.length)
          : strength::pair_weld(hinge.leaf.width, hinge.knuckles[leaf.knuckle].length);
  return strength::weld_line_force(lines, leaf.force, leaf.moment);
}

void add_leaves(const input::DoorCase& c, const HingeState& d, std::vector<QuantityOfInterest>& all)
{
  AtHinge bending;
  AtHinge combined;
  const auto look = [&](const strength::PlateSection& section, int hinge,
                        const std::string& where) {
    keep_worse(bending, strength::bending_stress(section), hinge, where);
    keep_worse(combined, strength::combined_stress(section), hinge,
               fmt::format("{}; {} along the hinge", where,
                           input::format_short(std::abs(section.force.z), input::Dimension::force,
                                               c.units)));
  };
  for (const auto& leaf : d.leaves)
    look(strength::leaf_section(d.door.hinges[leaf.hinge], leaf), leaf.hinge,
         fmt::format("hinge {}, {}", leaf.hinge + 1, half_of(leaf.owner)));
  for (const auto& k : d.knuckles)
    if (d.door.hinges[k.hinge].kind == door::HingeKind::barrels)
      look(strength::neck_section(d.door, k), k.hinge,
           fmt::format("hinge {}, {}, where knuckle {} from below stands on its leaf", k.hinge + 1,
                       half_of(k.owner), k.knuckle + 1));
  const input::Limit share = c.limits.share_of_yield;
  const double yield = yield_now(d.door.steel, d.hinge_temperature);
  all.push_back(limited({d.state, qoi::Quantity::leaf_bending}, bending.found,
                        {share.value * yield, share.origin}, bending.where));
  all.push_back(limited({d.state, qoi::Quantity::leaf_combined}, combined.found,
                        {share.value * yield, together_origin(share)}, combined.where));
}

void add_welds(const input::DoorCase& c, const HingeState& d, std::vector<QuantityOfInterest>& all)
{
  AtHinge throat;
  AtHinge leg;
  for (const auto& leaf : d.leaves) {
    const door::Hinge& hinge = d.door.hinges[leaf.hinge];
    const double line = foot_line_force(hinge, leaf);
    const std::string where =
        fmt::format("hinge {}, {}; line method", leaf.hinge + 1, half_of(leaf.owner));
    keep_worse(throat, line / strength::weld_throat(hinge.weld_leg), leaf.hinge, where);
    keep_worse(leg, line / hinge.weld_leg, leaf.hinge, where);
  }
  all.push_back(limited({d.state, qoi::Quantity::weld_throat_stress}, throat.found,
                        weld_limit(c.limits.weld_stress, d.hinge_temperature, c.units),
                        throat.where));
  const double base =
      strength::base_metal_limit(yield_now(d.door.steel, d.hinge_temperature),
                                 material::ultimate_at(d.door.steel, d.hinge_temperature));
  all.push_back(limited({d.state, qoi::Quantity::weld_base_metal}, leg.found,
                        {base, base_metal_origin}, leg.where));
}

} // namespace

std::vector<QuantityOfInterest> hinge_quantities(const input::DoorCase& door_case,
                                                 const HingeState& hinges)
{
  std::vector<QuantityOfInterest> all;
  add_pins(door_case, hinges, all);
  add_bearing(door_case, hinges, all);
  add_leaves(door_case, hinges, all);
  add_welds(door_case, hinges, all);
  return all;
}

QuantityOfInterest knuckle_force(const HingeState& hinges)
{
  double force = 0.0;
  for (const auto& k : hinges.knuckles)
    force = std::max(force, k.greatest_force);
  return reading({hinges.state, qoi::Quantity::knuckle_force}, force);
}

} // namespace hangtrue::verdict
