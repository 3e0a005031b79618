#include "cases/warm_findings.hpp"

#include <fmt/format.h>

#include <algorithm>

namespace hangtrue
{

namespace
{

// A hand that touches the outside, and steel that lasts.
void add_temperatures(const DoorCase& c, const Deflection& d, std::vector<Finding>& all)
{
  const auto shown = [&](double t) { return format_short(t, Kind::temperature, c.units); };
  all.push_back(make_finding(
      "outside temperature", d.state, d.warmth.outside_hottest, c.limits.touch, Kind::temperature,
      0.0,
      fmt::format("hottest over the rim; {} in the middle; keep hands off and fence what is "
                  "hotter than the limit",
                  shown(d.warmth.outside_middle))));
  all.push_back(make_finding("hottest steel", d.state, d.warmth.hottest, c.limits.long_life,
                             Kind::temperature, 0.0,
                             "inner skin; above it steel scales and creeps"));
}

// Stress that heat leaves in skins and rim, and whether the hot skin would buckle.
void add_plates(const DoorCase& c, const Deflection& d, std::vector<Finding>& all)
{
  const auto length = [&](double v) { return format_short(v, Kind::length, c.units); };
  for (const auto& plate : d.plates)
    all.push_back(make_finding(
        plate.plate + " stays elastic", d.state, plate.stress,
        {plate.proof, "k_p f_y, EN 1993-1-2 Table 3.1, at the temperature there"}, Kind::stress,
        0.0,
        fmt::format("at {} from the hinge edge, {} up, {}; mean over a piece as wide as "
                    "the rim, worse face; above the limit some bow stays after cooling",
                    length(plate.place.x), length(plate.place.z),
                    format_short(plate.temperature, Kind::temperature, c.units))));
  if (d.buckling.use > 0.0)
    all.push_back(
        make_finding("hot skin buckling, estimate", d.state, d.buckling.stress,
                     {d.buckling.critical, "simply supported field between rim and "
                                           "stiffeners, Timoshenko and Gere 9.2 (from memory)"},
                     Kind::stress, 0.0,
                     "mean compression of the inner skin; an estimate on the safe side: past "
                     "it the skin may snap into waves between its edges"));
}

// Play that heat takes, and room that a loose skin needs.
void add_fits(const DoorCase& c, const Deflection& d, std::vector<Finding>& all)
{
  const Door& door = c.door;
  struct AtHinge {
    double found = 0.0;
    std::string where;
  };
  AtHinge bore;
  AtHinge along;
  double play = 0.0;
  double room = 0.0;
  for (const auto& fit : d.fits) {
    const Hinge& hinge = door.hinges[fit.hinge];
    const double free = hinge.carries_weight ? hinge.end_float : 0.5 * hinge.end_float;
    const std::string where = fmt::format("hinge {}", fit.hinge + 1);
    const double taken = hinge.clearance - fit.bore;
    if (bore.where.empty() || taken / hinge.clearance > bore.found / play) {
      bore = {taken, where};
      play = hinge.clearance;
    }
    const double grown = free - fit.along;
    if (along.where.empty() || grown - free > along.found - room) {
      along = {grown, where};
      room = free;
    }
  }
  all.push_back(make_finding("bore play taken by heat", d.state, std::max(0.0, bore.found),
                             {play, "the play as drawn"}, Kind::length, 0.0,
                             bore.where +
                                 ": a pin hotter than its knuckle; shops keep 0.004 in at 3/4 "
                                 "to 1 in (common practice, no source)"));
  all.push_back(
      make_finding("end float taken by heat", d.state, along.found,
                   {room, "the end float as drawn, half of it where the door does not rest"},
                   Kind::length, 0.0, along.where + ": growth of the hinge edge against the jamb"));
  if (d.skin_play.slide > 0.0)
    all.push_back(
        make_finding("sliding of the inner skin", d.state, d.skin_play.slide,
                     {c.door.inner_hold.slot, "inner_hold.slot"}, Kind::length, 0.0,
                     fmt::format("slots and edge gaps must let it slide; it lifts {} off the "
                                 "rim at most",
                                 format_short(d.skin_play.lift, Kind::length, c.units))));
  if (d.skin_play.closing > 0.0)
    all.push_back(make_finding("closing of the cut", d.state, d.skin_play.closing,
                               {c.door.inner_hold.slot, "inner_hold.slot"}, Kind::length, 0.0,
                               "the two halves of the inner skin grow towards each other"));
}

} // namespace

void add_warm_findings(const DoorCase& c, const Deflection& d, std::vector<Finding>& all)
{
  add_temperatures(c, d, all);
  add_plates(c, d, all);
  add_fits(c, d, all);
}

} // namespace hangtrue
