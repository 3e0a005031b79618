#include "cases/verdict/closed_checks.hpp"

#include "cases/verdict/end_float_checks.hpp"

#include <fmt/format.h>

#include <algorithm>

namespace hangtrue
{

namespace
{

std::string place_text(const DoorCase& c, const Vec3& p)
{
  return fmt::format("{} from the hinge edge, {} up", format_short(p.x, Kind::length, c.units),
                     format_short(p.z, Kind::length, c.units));
}

void add_gasket(const DoorCase& c, const ClosedDoor& d, std::vector<Finding>& all)
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
  all.push_back(make_floor("least load of the gasket", d.state, s.least_load,
                           {gasket.sealing, kind}, Kind::force_per_length, sealing));
  all.push_back(make_finding("most squeeze of the gasket", d.state, std::max(0.0, s.most_squeeze),
                             {gasket.crushing, kind}, Kind::length, 0.0,
                             "most at " + place_text(c, s.most_at)));
  if (d.warm)
    all.push_back(make_finding("heat under the gasket", d.state, s.hottest, {gasket.hottest, kind},
                               Kind::temperature, 0.0, "hottest skin along its line"));
}

void add_latches(const DoorCase& c, const ClosedDoor& d, std::vector<Finding>& all)
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
  all.push_back(make_finding("pull of the hand on a latch", d.state, worst->hand, c.limits.hand,
                             Kind::force, 0.0, reason));
}

void add_reveal(const DoorCase& c, const ClosedDoor& d, std::vector<Finding>& all)
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
  all.push_back(make_floor("reveal left", d.state, std::max(0.0, least.left), c.limits.reveal_left,
                           Kind::length, reason));
}

} // namespace

Door standing_shut(const DoorCase& door_case)
{
  Door door = door_case.door;
  door.swing = 0.0;
  return door;
}

HingesAt hinges_at(const Door& shut_door, const ClosedDoor& d)
{
  return {shut_door, d.state, d.hinge_temperature, d.knuckles, d.pins, d.leaves};
}

std::vector<Finding> judge_closed(const DoorCase& door_case, const ClosedDoor& closed)
{
  std::vector<Finding> all;
  add_gasket(door_case, closed, all);
  add_latches(door_case, closed, all);
  add_reveal(door_case, closed, all);
  const Door door = standing_shut(door_case);
  const auto hinges = judge_hinges(door_case, hinges_at(door, closed));
  all.insert(all.end(), hinges.begin(), hinges.end());
  add_float_findings(
      door_case, {closed.state, closed.axial, closed.hinge_temperature, closed.weight, closed.warm},
      all);
  return all;
}

} // namespace hangtrue
