#include "cases/verdict/checks.hpp"

#include "cases/verdict/end_float_checks.hpp"
#include "cases/verdict/thermal_checks.hpp"
#include "solver/error/load_offset_check.hpp"
#include "solver/material/steel_properties.hpp"
#include "solver/strength/strength_formulas.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

namespace hangtrue
{

namespace
{

constexpr double worth_saying = 0.1; // of the limit

// One value of a hinge and what belongs to it.
struct AtHinge {
  double found = 0.0;
  int hinge = 0;
  std::string where;
};

// Of equal ones the first, whatever rounding made of them.
void keep_worse(AtHinge& worst, double found, int hinge, const std::string& where)
{
  constexpr double equal = 1e-9;
  if (found > (1.0 + equal) * worst.found || worst.where.empty())
    worst = {found, hinge, where};
}

// A lid that tips from one edge of its bores to the other: what it then does instead of `now`.
std::string tipped(const DoorCase& c, const Deflection& d, double Tip::*what, double now,
                   double limit)
{
  if (!d.poise)
    return "";
  const auto& [nearer, farther] = d.poise->sides;
  const double other =
      std::abs(nearer.*what - now) > std::abs(farther.*what - now) ? nearer.*what : farther.*what;
  if (std::abs(other - now) < worth_saying * limit)
    return "";
  const auto shown = [&](double m) { return format_short(m, Kind::length, c.units); };
  return fmt::format("; HARDLY ANYTHING DECIDES IT: with all that the door carries {} off along "
                     "the hinges it is {}",
                     shown(d.poise->shift), shown(other));
}

std::string drop_reason(const DoorCase& c, const Deflection& d)
{
  const double play = d.drop - d.elastic_drop - d.heat_drop;
  const std::string cold = fmt::format("{} of it is play in the bores and {} is steel bending",
                                       format_short(play, Kind::length, c.units),
                                       format_short(d.elastic_drop, Kind::length, c.units));
  const std::string all =
      d.warm ? cold + ", " + format_short(d.heat_drop, Kind::length, c.units) + " is heat" : cold;
  return all + tipped(c, d, &Tip::drop, d.drop, c.limits.drop.value);
}

void add_movements(const DoorCase& c, const Deflection& d, std::vector<Finding>& all)
{
  all.push_back(make_finding("drop of the latch corner", d.state, std::max(0.0, d.drop),
                             c.limits.drop, Kind::length, d.drop_error, drop_reason(c, d)));
  all.push_back(make_finding("lean of the latch edge", d.state, std::abs(d.lean), c.limits.lean,
                             Kind::length, d.drop_error,
                             "the upper latch corner leans out by this against the lower" +
                                 tipped(c, d, &Tip::lean, d.lean, c.limits.lean.value)));
  all.push_back(make_finding("sag from steel alone", d.state, std::max(0.0, d.elastic_drop),
                             c.limits.elastic_sag, Kind::length, d.drop_error,
                             "bending of jamb, leaves, pin and panel, with the play taken away"));
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

void add_pins(const DoorCase& c, const HingesAt& d, std::vector<Finding>& all)
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
  all.push_back(make_finding("pin bending", d.state, bending.found,
                             {share.value * yield, share.origin}, Kind::stress, 0.0,
                             bending.where));
  all.push_back(make_finding("pin shear", d.state, shear.found,
                             {pin_shear_limit(yield, ultimate), pin_shear_origin}, Kind::stress,
                             0.0, shear.where));
  all.push_back(make_finding("pin bending and shear together", d.state, combined.found,
                             {share.value * yield, together_origin(share)}, Kind::stress, 0.0,
                             combined.where));
}

// Where along a knuckle its pin presses most.
std::string line_load_words(const KnuckleForce& k, Units units)
{
  const bool upper = norm(k.line_load[1]) > norm(k.line_load[0]);
  return fmt::format(
      "{} at its {} end, {} in all", format_short(k.worst_line_load, Kind::force_per_length, units),
      upper ? "upper" : "lower", format_short(norm(k.pin_force), Kind::force, units));
}

void add_bearing(const DoorCase& c, const HingesAt& d, std::vector<Finding>& all)
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
  all.push_back(make_finding("knuckle bearing", d.state, bearing.found,
                             {0.6 * yield, "0.6 fy, EN 1993-1-8 Table 3.10, replaceable pin"},
                             Kind::stress, 0.0, bearing.where));
  all.push_back(
      make_finding("pin contact pressure", d.state, contact.found,
                   {2.5 * yield, "2.5 fy, EN 1993-1-8 eq. 3.14 and 3.15, replaceable pin"},
                   Kind::stress, 0.0, contact.where));
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

void add_leaves(const DoorCase& c, const HingesAt& d, std::vector<Finding>& all)
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
  all.push_back(make_finding("leaf bending", d.state, bending.found,
                             {share.value * yield, share.origin}, Kind::stress, 0.0,
                             bending.where));
  all.push_back(make_finding("leaf bending and shear together", d.state, combined.found,
                             {share.value * yield, together_origin(share)}, Kind::stress, 0.0,
                             combined.where));
}

void add_welds(const DoorCase& c, const HingesAt& d, std::vector<Finding>& all)
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
  all.push_back(make_finding("weld throat", d.state, throat.found,
                             weld_limit(c.limits.weld_stress, d.hinge_temperature, c.units),
                             Kind::stress, 0.0, throat.where));
  const double base = base_metal_limit(yield_now(d.door.steel, d.hinge_temperature),
                                       ultimate_at(d.door.steel, d.hinge_temperature));
  all.push_back(make_finding("base metal at the weld", d.state, leg.found,
                             {base, base_metal_origin}, Kind::stress, 0.0, leg.where));
}

} // namespace

HingesAt hinges_at(const Door& door, const Deflection& d)
{
  return {door, d.state, d.hinge_temperature, d.knuckles, d.pins, d.leaves};
}

std::vector<Finding> judge_hinges(const DoorCase& door_case, const HingesAt& hinges)
{
  std::vector<Finding> all;
  add_pins(door_case, hinges, all);
  add_bearing(door_case, hinges, all);
  add_leaves(door_case, hinges, all);
  add_welds(door_case, hinges, all);
  return all;
}

std::vector<Finding> judge(const DoorCase& door_case, const Deflection& deflection)
{
  std::vector<Finding> all;
  add_movements(door_case, deflection, all);
  const auto hinges = judge_hinges(door_case, hinges_at(door_case.door, deflection));
  all.insert(all.end(), hinges.begin(), hinges.end());
  add_float_findings(door_case,
                     {deflection.state, deflection.axial, deflection.hinge_temperature,
                      deflection.weight, deflection.warm},
                     all);
  if (deflection.warm)
    add_warm_findings(door_case, deflection, all);
  return all;
}

Finding judge_wear(const DoorCase& c, const Deflection& d, const WearCurve& wear)
{
  const WearYear& last = wear.years.back();
  const auto shown = [&](double m) { return format_short(m, Kind::length, c.units); };
  return make_finding(
      fmt::format("drop after {:g} years", last.year), d.state, std::max(0.0, last.usual),
      c.limits.drop, Kind::length, d.drop_error + std::max(0.0, last.high - last.usual),
      fmt::format("{:g} swings a day, {}: between {} and {}{}; wear is known to an order of "
                  "magnitude only (Archard's law)",
                  c.use.swings_per_day, c.use.greased ? "greased" : "dry", shown(last.low),
                  shown(last.high),
                  wear.worn_through ? " or more, the pin worn away by a tenth" : ""));
}

} // namespace hangtrue
