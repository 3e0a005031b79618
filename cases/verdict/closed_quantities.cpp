#include "cases/verdict/closed_quantities.hpp"

#include "cases/input/units.hpp"
#include "cases/verdict/bearing_position_error.hpp"
#include "cases/verdict/end_float_quantities.hpp"
#include "cases/verdict/hinge_quantities.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <utility>

namespace hangtrue
{

namespace
{

std::string place_text(const DoorCase& c, const Vec3& p)
{
  return fmt::format("{} from the hinge edge, {} up", format_short(p.x, Kind::length, c.units),
                     format_short(p.z, Kind::length, c.units));
}

void add_gasket(const DoorCase& c, const ClosedDoor& d, std::vector<QuantityOfInterest>& all)
{
  const Gasket& gasket = c.door.gasket;
  const GasketSum& s = d.sum;
  const auto length = [&](double v) { return format_short(v, Kind::length, c.units); };
  const std::string kind = "gasket, " + gasket.kind;
  std::string sealing = fmt::format("least at {}; {:.0f} % of the line is below",
                                    place_text(c, s.least_at), 100.0 * s.below_sealing);
  if (s.open_length > 0.0)
    sealing += fmt::format("; open over {}, gap up to {}, {} in all", length(s.open_length),
                           length(s.largest_gap), format_short(s.leak_area, Kind::area, c.units));
  if (s.short_by > 0.0)
    sealing += fmt::format("; shim or draw it {} closer there to seal", length(s.short_by));
  all.push_back(
      limited({d.state, Quantity::gasket_load}, s.least_load, {gasket.sealing, kind}, sealing));
  all.push_back(limited({d.state, Quantity::gasket_squeeze}, std::max(0.0, s.most_squeeze),
                        {gasket.crushing, kind}, "most at " + place_text(c, s.most_at)));
  if (d.warm)
    all.push_back(limited({d.state, Quantity::gasket_temperature}, s.hottest,
                          {gasket.hottest, kind}, "hottest skin along its line"));
}

void add_latches(const DoorCase& c, const ClosedDoor& d, std::vector<QuantityOfInterest>& all)
{
  const LatchAt* worst = nullptr;
  for (const auto& latch : d.latches)
    if (worst == nullptr || latch.hand > worst->hand)
      worst = &latch;
  if (worst == nullptr)
    return;
  std::string reason = fmt::format("latch {}, {} on the door", worst->latch + 1,
                                   format_short(worst->force, Kind::force, c.units));
  for (const auto& latch : d.latches)
    if (latch.slack > 0.0)
      reason += fmt::format("; latch {} is slack by {}", latch.latch + 1,
                            format_short(latch.slack, Kind::length, c.units));
  if (!worst->holds_itself)
    reason += "; it does not hold itself: its lead is steeper than its friction";
  all.push_back(limited({d.state, Quantity::latch_pull}, worst->hand, c.limits.hand, reason));
}

void add_reveal(const DoorCase& c, const ClosedDoor& d, std::vector<QuantityOfInterest>& all)
{
  struct Side {
    double left;
    const char* name;
  };
  const Side sides[] = {{d.reveal.hinge, "hinge edge"},
                        {d.reveal.latch, "latch edge"},
                        {d.reveal.lower, "lower edge"},
                        {d.reveal.upper, "upper edge"}};
  const Side& least =
      *std::min_element(std::begin(sides), std::end(sides),
                        [](const Side& a, const Side& b) { return a.left < b.left; });
  std::string reason =
      fmt::format("least at the {}, {}", least.name, place_text(c, d.reveal.least_at));
  if (least.left <= 0.0)
    reason += ", where it touches the opening";
  if (!d.stops.empty())
    reason += fmt::format("; steel meets the frame face at {}", place_text(c, d.stops.front()));
  all.push_back(limited({d.state, Quantity::reveal}, std::max(0.0, least.left),
                        c.limits.reveal_left, reason));
}

void add_readings(const ClosedDoor& d, std::vector<QuantityOfInterest>& all)
{
  double least = d.sum.most_squeeze;
  for (const auto& g : d.gasket)
    least = std::min(least, g.squeeze);
  all.push_back(reading({d.state, Quantity::least_squeeze}, least));
  all.push_back(reading({d.state, Quantity::mean_gasket_load}, d.sum.mean_load));
  for (const auto& latch : d.latches)
    all.push_back(reading({d.state, Quantity::latch_force, latch.latch}, latch.force));
}

} // namespace

Door standing_shut(const DoorCase& door_case)
{
  Door door = door_case.door;
  door.swing = 0.0;
  return door;
}

std::vector<QuantityOfInterest> quantities_of(const DoorCase& door_case, const ClosedDoor& closed)
{
  std::vector<QuantityOfInterest> all;
  add_gasket(door_case, closed, all);
  add_latches(door_case, closed, all);
  add_reveal(door_case, closed, all);
  const Door door = standing_shut(door_case);
  const HingesAt hinges{door,        closed.state, closed.hinge_temperature, closed.knuckles,
                        closed.pins, closed.leaves};
  for (auto& q : hinge_quantities(door_case, hinges))
    all.push_back(std::move(q));
  add_end_float(door_case,
                {closed.state, closed.axial, closed.hinge_temperature, closed.weight, closed.warm},
                all);
  add_readings(closed, all);
  add_bearing_position_error(hinges, all);
  all.push_back(knuckle_force(hinges));
  return all;
}

} // namespace hangtrue
