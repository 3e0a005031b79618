// SPDX-License-Identifier: GPL-3.0-or-later
#include "cases/verdict/closed_quantities.hpp"

#include "cases/input/units.hpp"
#include "cases/verdict/bearing_position_error.hpp"
#include "cases/verdict/end_float_quantities.hpp"
#include "cases/verdict/hinge_quantities.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <utility>

namespace hangtrue::verdict
{

namespace
{

std::string place_text(const input::DoorCase& c, const Vec3& p)
{
  return fmt::format("{} from the hinge edge, {} up",
                     input::format_short(p.x, input::Dimension::length, c.units),
                     input::format_short(p.z, input::Dimension::length, c.units));
}

void add_gasket(const input::DoorCase& c, const analysis::ClosedDoorResult& d,
                std::vector<QuantityOfInterest>& all)
{
  const door::Gasket& gasket = c.door.gasket;
  const analysis::GasketSummary& s = d.gasket_summary;
  const auto length = [&](double v) {
    return input::format_short(v, input::Dimension::length, c.units);
  };
  const std::string kind = "gasket, " + gasket.kind;
  std::string sealing = fmt::format("least at {}; {:.0f} % of the line is below",
                                    place_text(c, s.min_at), 100.0 * s.below_sealing);
  if (s.open_length > 0.0)
    sealing += fmt::format("; open over {}, gap up to {}, {} in all", length(s.open_length),
                           length(s.largest_gap),
                           input::format_short(s.leak_area, input::Dimension::area, c.units));
  if (s.short_by > 0.0)
    sealing += fmt::format("; shim or draw it {} closer there to seal", length(s.short_by));
  all.push_back(
      limited({d.state, qoi::Quantity::gasket_load}, s.min_load, {gasket.sealing, kind}, sealing));
  all.push_back(limited({d.state, qoi::Quantity::gasket_squeeze}, std::max(0.0, s.max_squeeze),
                        {gasket.crushing, kind}, "most at " + place_text(c, s.max_at)));
  if (d.warm)
    all.push_back(limited({d.state, qoi::Quantity::gasket_temperature}, s.hottest,
                          {gasket.hottest, kind}, "hottest skin along its line"));
}

void add_latches(const input::DoorCase& c, const analysis::ClosedDoorResult& d,
                 std::vector<QuantityOfInterest>& all)
{
  const analysis::LatchResult* worst = nullptr;
  for (const auto& latch : d.latches)
    if (worst == nullptr || latch.hand > worst->hand)
      worst = &latch;
  if (worst == nullptr)
    return;
  std::string reason =
      fmt::format("latch {}, {} on the door", worst->latch + 1,
                  input::format_short(worst->force, input::Dimension::force, c.units));
  for (const auto& latch : d.latches)
    if (latch.slack > 0.0)
      reason += fmt::format("; latch {} is slack by {}", latch.latch + 1,
                            input::format_short(latch.slack, input::Dimension::length, c.units));
  if (!worst->self_locking)
    reason += "; it does not hold itself: its lead is steeper than its friction";
  all.push_back(limited({d.state, qoi::Quantity::latch_pull}, worst->hand, c.limits.hand, reason));
}

void add_reveal(const input::DoorCase& c, const analysis::ClosedDoorResult& d,
                std::vector<QuantityOfInterest>& all)
{
  struct Side {
    double left;
    const char* name;
  };
  const Side sides[] = {{d.reveal.hinge, "hinge edge"},
                        {d.reveal.latch, "latch edge"},
                        {d.reveal.lower, "lower edge"},
                        {d.reveal.upper, "upper edge"}};
  const Side& minimum =
      *std::min_element(std::begin(sides), std::end(sides),
                        [](const Side& a, const Side& b) { return a.left < b.left; });
  std::string reason =
      fmt::format("least at the {}, {}", minimum.name, place_text(c, d.reveal.min_at));
  if (minimum.left <= 0.0)
    reason += ", where it touches the opening";
  if (!d.stops.empty())
    reason += fmt::format("; steel meets the frame face at {}", place_text(c, d.stops.front()));
  all.push_back(limited({d.state, qoi::Quantity::reveal}, std::max(0.0, minimum.left),
                        c.limits.reveal_left, reason));
  all.back().with_sign = minimum.left;
}

void add_readings(const analysis::ClosedDoorResult& d, std::vector<QuantityOfInterest>& all)
{
  double minimum = d.gasket_summary.max_squeeze;
  for (const auto& g : d.gasket)
    minimum = std::min(minimum, g.squeeze);
  all.push_back(reading({d.state, qoi::Quantity::least_squeeze}, minimum));
  all.push_back(reading({d.state, qoi::Quantity::mean_gasket_load}, d.gasket_summary.mean_load));
  for (const auto& latch : d.latches)
    all.push_back(reading({d.state, qoi::Quantity::latch_force, latch.latch}, latch.force));
}

} // namespace

door::Door as_closed(const input::DoorCase& door_case)
{
  door::Door door = door_case.door;
  door.swing = 0.0;
  return door;
}

std::vector<QuantityOfInterest> quantities_of(const input::DoorCase& door_case,
                                              const analysis::ClosedDoorResult& closed)
{
  std::vector<QuantityOfInterest> all;
  add_gasket(door_case, closed, all);
  add_latches(door_case, closed, all);
  add_reveal(door_case, closed, all);
  const door::Door door = as_closed(door_case);
  const HingeState hinges{door,        closed.state, closed.hinge_temperature, closed.knuckles,
                          closed.pins, closed.leaves};
  for (auto& q : hinge_quantities(door_case, hinges))
    all.push_back(std::move(q));
  add_end_float(door_case,
                {closed.state, closed.axial, closed.hinge_temperature, closed.weight, closed.warm},
                all);
  add_readings(closed, all);
  add_bearing_position_error(hinges, all);
  all.push_back(knuckle_force(hinges));
  if (closed.load_offset)
    for (const auto* ways : {&closed.load_offset->offset, &closed.load_offset->turned})
      for (const auto& way : *ways)
        add_load_offset_change(quantities_of(door_case, way), all);
  return all;
}

} // namespace hangtrue::verdict
