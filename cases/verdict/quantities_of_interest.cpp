// SPDX-License-Identifier: GPL-3.0-or-later
#include "cases/verdict/quantities_of_interest.hpp"

#include "cases/input/units.hpp"
#include "cases/verdict/bearing_position_error.hpp"
#include "cases/verdict/end_float_quantities.hpp"
#include "cases/verdict/hinge_quantities.hpp"
#include "cases/verdict/thermal_quantities.hpp"
#include "solver/error/load_offset_check.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <utility>

namespace hangtrue::verdict
{

namespace
{

constexpr double worth_saying = 0.1; // of the limit

// A lid that tips from one edge of its bores to the other: what it then does instead of `now`.
std::string tipped(const input::DoorCase& c, const analysis::OpenDoorResult& d,
                   double error::TippedState::*what, double now, double limit)
{
  if (!d.load_offset)
    return "";
  const auto& [nearer, farther] = d.load_offset->sides;
  const double other =
      std::abs(nearer.*what - now) > std::abs(farther.*what - now) ? nearer.*what : farther.*what;
  if (std::abs(other - now) < worth_saying * limit)
    return "";
  const auto shown = [&](double m) {
    return input::format_short(m, input::Dimension::length, c.units);
  };
  return fmt::format("; UNSTABLE: with all its load offset {} along the hinges it is {}",
                     shown(d.load_offset->shift), shown(other));
}

std::string drop_reason(const input::DoorCase& c, const analysis::OpenDoorResult& d)
{
  const double play = d.drop - d.elastic_drop - d.heat_drop;
  const std::string cold =
      fmt::format("{} of it is play in the bores and {} is steel bending",
                  input::format_short(play, input::Dimension::length, c.units),
                  input::format_short(d.elastic_drop, input::Dimension::length, c.units));
  const std::string all =
      d.warm ? cold + ", " + input::format_short(d.heat_drop, input::Dimension::length, c.units) +
                   " is heat"
             : cold;
  return all + tipped(c, d, &error::TippedState::drop, d.drop, c.limits.drop.value);
}

void add_movements(const input::DoorCase& c, const analysis::OpenDoorResult& d,
                   std::vector<QuantityOfInterest>& all)
{
  all.push_back(limited({d.state, qoi::Quantity::drop}, std::max(0.0, d.drop), c.limits.drop,
                        drop_reason(c, d)));
  all.push_back(limited({d.state, qoi::Quantity::lean}, std::abs(d.lean), c.limits.lean,
                        "the upper latch corner leans out by this against the lower" +
                            tipped(c, d, &error::TippedState::lean, d.lean, c.limits.lean.value)));
  // Both are differences of displacements as large as the drop.
  all.back().scale = std::abs(d.drop);
  all.push_back(limited({d.state, qoi::Quantity::elastic_sag}, std::max(0.0, d.elastic_drop),
                        c.limits.elastic_sag,
                        "bending of jamb, leaves, pin and panel, with the play taken away"));
  all.back().scale = std::abs(d.drop);
}

// A lid's drop and lean with its loads offset, against the nominal ones.
void add_load_offset_error(const analysis::OpenDoorResult& d, std::vector<QuantityOfInterest>& all)
{
  if (!d.load_offset)
    return;
  for (auto& q : all)
    for (const auto& side : d.load_offset->sides) {
      if (q.id.quantity == qoi::Quantity::drop)
        q.load_offset_change = std::max(q.load_offset_change, std::abs(side.drop - d.drop));
      if (q.id.quantity == qoi::Quantity::lean)
        q.load_offset_change = std::max(q.load_offset_change, std::abs(side.lean - d.lean));
    }
}

// Set-back is across the forces on the pins, where the position of a pin in its bore counts fully.
QuantityOfInterest set_back(const analysis::OpenDoorResult& d)
{
  constexpr double across = 5.0;
  QuantityOfInterest q = reading({d.state, qoi::Quantity::set_back}, d.set_back);
  q.scale = across * std::abs(d.drop);
  return q;
}

} // namespace

std::vector<QuantityOfInterest> quantities_of(const input::DoorCase& door_case,
                                              const analysis::OpenDoorResult& open_result)
{
  std::vector<QuantityOfInterest> all;
  add_movements(door_case, open_result, all);
  const HingeState hinges{door_case.door,       open_result.state, open_result.hinge_temperature,
                          open_result.knuckles, open_result.pins,  open_result.leaves};
  for (auto& q : hinge_quantities(door_case, hinges))
    all.push_back(std::move(q));
  add_end_float(door_case,
                {open_result.state, open_result.axial, open_result.hinge_temperature,
                 open_result.weight, open_result.warm},
                all);
  if (open_result.warm)
    add_thermal_checks(door_case, open_result, all);
  add_bearing_position_error(hinges, all);
  all.push_back(knuckle_force(hinges));
  add_clamped_buckling(open_result, all);
  add_load_offset_error(open_result, all);
  all.push_back(set_back(open_result));
  if (open_result.warm)
    add_thermal_readings(open_result, all);
  for (const auto& split : open_result.splits)
    if (QuantityOfInterest* q = find_quantity(all, {open_result.state, split.quantity}))
      q->estimated_error = split.estimated_error;
  return all;
}

QuantityOfInterest drop_after_years(const input::DoorCase& c, const analysis::OpenDoorResult& d,
                                    const analysis::WearCurve& wear, double drop_error)
{
  const analysis::WearYear& last = wear.years.back();
  const auto shown = [&](double m) {
    return input::format_short(m, input::Dimension::length, c.units);
  };
  QuantityOfInterest q = limited(
      {d.state, qoi::Quantity::drop_after_years}, std::max(0.0, last.usual), c.limits.drop,
      fmt::format("{:g} swings a day, {}: between {} and {}{}; wear is known to an order of "
                  "magnitude only (Archard's law)",
                  c.use.swings_per_day, c.use.greased ? "greased" : "dry", shown(last.low),
                  shown(last.high),
                  wear.worn_through ? " or more, the pin worn away by a tenth" : ""));
  const double error = drop_error + std::max(0.0, last.high - last.usual);
  if (error > 0.0)
    q.error = error;
  return q;
}

} // namespace hangtrue::verdict
