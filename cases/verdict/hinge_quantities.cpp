#include "cases/verdict/hinge_quantities.hpp"

#include "cases/input/units.hpp"
#include "solver/material/steel_properties.hpp"
#include "solver/strength/strength_formulas.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

namespace hangtrue
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

double yield_now(const Steel& steel, double temperature)
{
  return steel.yield * reduction(steel, temperature).yield;
}

constexpr const char* pin_shear_origin = "0.36 of yield or 0.30 of ultimate, the lesser: 0.60 Fy / "
                                         "1.67 and 0.60 Fu / 2.00, AISC 360 G and J4 (from memory)";
constexpr const char* base_metal_origin =
    "0.40 of yield or 0.30 of ultimate, the lesser, on the leg: 0.60 Fy / 1.50 and 0.60 Fu / 2.00, "
    "AISC 360 J2.4 and J4.2 (from memory)";

std::string together_origin(const Limit& share)
{
  return "von Mises stress (EN 1993-1-1 6.2.1(5)) against the share of yield: " + share.origin;
}

// As hot as the hinge the weld bears less.
Limit weld_limit(const Limit& cold, double temperature, Units units)
{
  const double k = weld_reduction(temperature);
  if (k == 1.0)
    return cold;
  return {k * cold.value,
          fmt::format("{}; times {:.3f} at {}, EN 1993-1-2 Table D.1 (from memory)", cold.origin, k,
                      format_short(temperature, Kind::temperature, units))};
}

void add_pins(const DoorCase& c, const HingesAt& d, std::vector<QuantityOfInterest>& all)
{
  const double yield = yield_now(d.door.pin_steel, d.hinge_temperature);
  const double ultimate = ultimate_at(d.door.pin_steel, d.hinge_temperature);
  AtHinge bending;
  AtHinge shear;
  AtHinge combined;
  for (const auto& pin : d.pins) {
    const double diameter = d.door.hinges[pin.hinge].pin_diameter;
    const std::string where = fmt::format("hinge {}", pin.hinge + 1);
    const std::string moment = format_short(pin.greatest_bending, Kind::moment, c.units);
    const std::string force = format_short(pin.greatest_shear, Kind::force, c.units);
    keep_worse(bending, pin_bending_stress(pin.greatest_bending, diameter), pin.hinge,
               fmt::format("{}: moment {}", where, moment));
    keep_worse(shear, pin_shear_stress(pin.greatest_shear, diameter), pin.hinge,
               fmt::format("{}: shear {}", where, force));
    keep_worse(combined, pin_combined_stress(pin.greatest_bending, pin.greatest_shear, diameter),
               pin.hinge, fmt::format("{}: moment {}, shear {}", where, moment, force));
  }
  const Limit share = c.limits.share_of_yield;
  all.push_back(limited({d.state, Quantity::pin_bending}, bending.found,
                        {share.value * yield, share.origin}, bending.where));
  all.push_back(limited({d.state, Quantity::pin_shear}, shear.found,
                        {pin_shear_limit(yield, ultimate), pin_shear_origin}, shear.where));
  all.push_back(limited({d.state, Quantity::pin_combined}, combined.found,
                        {share.value * yield, together_origin(share)}, combined.where));
}

// Position along a knuckle where its pin presses most.
std::string line_load_words(const KnuckleForce& k, Units units)
{
  const bool upper = norm(k.line_load[1]) > norm(k.line_load[0]);
  return fmt::format(
      "{} at its {} end, {} in all", format_short(k.worst_line_load, Kind::force_per_length, units),
      upper ? "upper" : "lower", format_short(norm(k.pin_force), Kind::force, units));
}

void add_bearing(const DoorCase& c, const HingesAt& d, std::vector<QuantityOfInterest>& all)
{
  const Door& door = d.door;
  const double yield = std::min(yield_now(door.steel, d.hinge_temperature),
                                yield_now(door.pin_steel, d.hinge_temperature));
  const double modulus =
      door.steel.youngs_modulus * reduction(door.steel, d.hinge_temperature).modulus;
  AtHinge bearing;
  AtHinge contact;
  for (const auto& k : d.knuckles) {
    const Hinge& hinge = door.hinges[k.hinge];
    const std::string where = fmt::format("hinge {}, knuckle {} from below: {}", k.hinge + 1,
                                          k.knuckle + 1, line_load_words(k, c.units));
    keep_worse(bearing, k.bearing, k.hinge, where);
    keep_worse(contact,
               pin_contact_stress(modulus, k.worst_line_load, hinge.pin_diameter,
                                  hinge.pin_diameter + hinge.clearance, 1.0),
               k.hinge, where);
  }
  all.push_back(limited({d.state, Quantity::knuckle_bearing}, bearing.found,
                        {0.6 * yield, "0.6 fy, EN 1993-1-8 Table 3.10, replaceable pin"},
                        bearing.where));
  all.push_back(limited({d.state, Quantity::pin_contact}, contact.found,
                        {2.5 * yield, "2.5 fy, EN 1993-1-8 eq. 3.14 and 3.15, replaceable pin"},
                        contact.where));
}

std::string half_of(Owner owner)
{
  return owner == Owner::door ? "door half" : "frame half";
}

// Force per length, N/m, of the fillets round the land of a leaf, or on both sides of a lug.
double foot_line_force(const Hinge& hinge, const LeafForces& leaf)
{
  const WeldLines lines = hinge.kind == HingeKind::barrels
                              ? box_weld(hinge.leaf.width, hinge.leaf.length)
                              : pair_weld(hinge.leaf.width, hinge.knuckles[leaf.knuckle].length);
  return weld_line_force(lines, leaf.force, leaf.moment);
}

void add_leaves(const DoorCase& c, const HingesAt& d, std::vector<QuantityOfInterest>& all)
{
  AtHinge bending;
  AtHinge combined;
  const auto look = [&](const PlateSection& section, int hinge, const std::string& where) {
    keep_worse(bending, bending_stress(section), hinge, where);
    keep_worse(combined, combined_stress(section), hinge,
               fmt::format("{}; {} along the hinge", where,
                           format_short(std::abs(section.force.z), Kind::force, c.units)));
  };
  for (const auto& leaf : d.leaves)
    look(leaf_section(d.door.hinges[leaf.hinge], leaf), leaf.hinge,
         fmt::format("hinge {}, {}", leaf.hinge + 1, half_of(leaf.owner)));
  for (const auto& k : d.knuckles)
    if (d.door.hinges[k.hinge].kind == HingeKind::barrels)
      look(neck_section(d.door, k), k.hinge,
           fmt::format("hinge {}, {}, where knuckle {} from below stands on its leaf", k.hinge + 1,
                       half_of(k.owner), k.knuckle + 1));
  const Limit share = c.limits.share_of_yield;
  const double yield = yield_now(d.door.steel, d.hinge_temperature);
  all.push_back(limited({d.state, Quantity::leaf_bending}, bending.found,
                        {share.value * yield, share.origin}, bending.where));
  all.push_back(limited({d.state, Quantity::leaf_combined}, combined.found,
                        {share.value * yield, together_origin(share)}, combined.where));
}

void add_welds(const DoorCase& c, const HingesAt& d, std::vector<QuantityOfInterest>& all)
{
  AtHinge throat;
  AtHinge leg;
  for (const auto& leaf : d.leaves) {
    const Hinge& hinge = d.door.hinges[leaf.hinge];
    const double line = foot_line_force(hinge, leaf);
    const std::string where =
        fmt::format("hinge {}, {}; line method", leaf.hinge + 1, half_of(leaf.owner));
    keep_worse(throat, line / weld_throat(hinge.weld_leg), leaf.hinge, where);
    keep_worse(leg, line / hinge.weld_leg, leaf.hinge, where);
  }
  all.push_back(limited({d.state, Quantity::weld_throat_stress}, throat.found,
                        weld_limit(c.limits.weld_stress, d.hinge_temperature, c.units),
                        throat.where));
  const double base = base_metal_limit(yield_now(d.door.steel, d.hinge_temperature),
                                       ultimate_at(d.door.steel, d.hinge_temperature));
  all.push_back(limited({d.state, Quantity::weld_base_metal}, leg.found, {base, base_metal_origin},
                        leg.where));
}

} // namespace

std::vector<QuantityOfInterest> hinge_quantities(const DoorCase& door_case, const HingesAt& hinges)
{
  std::vector<QuantityOfInterest> all;
  add_pins(door_case, hinges, all);
  add_bearing(door_case, hinges, all);
  add_leaves(door_case, hinges, all);
  add_welds(door_case, hinges, all);
  return all;
}

QuantityOfInterest knuckle_force(const HingesAt& hinges)
{
  double force = 0.0;
  for (const auto& k : hinges.knuckles)
    force = std::max(force, k.greatest_force);
  return reading({hinges.state, Quantity::knuckle_force}, force);
}

} // namespace hangtrue
