// SPDX-License-Identifier: GPL-3.0-or-later
#include "cases/verdict/quantities_of_interest.hpp"

#include "cases/input/units.hpp"
#include "cases/verdict/bearing_position_error.hpp"
#include "cases/verdict/end_float_quantities.hpp"
#include "cases/verdict/hinge_quantities.hpp"
#include "cases/verdict/thermal_quantities.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <utility>

namespace hangtrue::verdict
{

namespace
{

constexpr double worth_saying = 0.1; // of the limit

// Of both ways the value that is farther from `now`.
double farther(const std::array<analysis::OpenDoorResult, 2>& ways,
               double analysis::OpenDoorResult::*what, double now)
{
  const double one = ways[0].*what;
  const double other = ways[1].*what;
  return std::abs(one - now) > std::abs(other - now) ? one : other;
}

// A lid that tips from one edge of its bores to the other, or turns in them: what it then does
// instead of `now`.
std::string tipped(const input::DoorCase& c, const analysis::OpenDoorResult& d,
                   double analysis::OpenDoorResult::*what, double now, double limit)
{
  if (!d.load_offset)
    return "";
  const auto shown = [&](double m) {
    return input::format_short(m, input::Dimension::length, c.units);
  };
  std::string text;
  const double offset = farther(d.load_offset->sides, what, now);
  if (std::abs(offset - now) >= worth_saying * limit)
    text += fmt::format("; UNSTABLE: with all its load offset {} along the hinges it is {}",
                        shown(d.load_offset->offset), shown(offset));
  const double turned = farther(d.load_offset->turned, what, now);
  if (std::abs(turned - now) >= worth_saying * limit)
    text += fmt::format("; LOOSE: a touch from the side turns it in its bores, then it is {}",
                        shown(turned));
  return text;
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
  return all + tipped(c, d, &analysis::OpenDoorResult::drop, d.drop, c.limits.drop.value);
}

void add_movements(const input::DoorCase& c, const analysis::OpenDoorResult& d,
                   std::vector<QuantityOfInterest>& all)
{
  all.push_back(limited({d.state, qoi::Quantity::drop}, std::max(0.0, d.drop), c.limits.drop,
                        drop_reason(c, d)));
  all.push_back(
      limited({d.state, qoi::Quantity::lean}, std::abs(d.lean), c.limits.lean,
              "the upper latch corner leans out by this against the lower" +
                  tipped(c, d, &analysis::OpenDoorResult::lean, d.lean, c.limits.lean.value)));
  all.back().with_sign = d.lean;
  // Both are differences of displacements as large as the drop.
  all.back().scale = std::abs(d.drop);
  all.push_back(limited({d.state, qoi::Quantity::elastic_sag}, std::max(0.0, d.elastic_drop),
                        c.limits.elastic_sag,
                        "bending of jamb, leaves, pin and panel, with the play taken away"));
  all.back().with_sign = d.elastic_drop;
  all.back().scale = std::abs(d.drop);
}

// Set-back is across the forces on the pins, where the position of a pin in its bore counts fully.
QuantityOfInterest set_back(const analysis::OpenDoorResult& d)
{
  constexpr double across = 5.0;
  QuantityOfInterest q = reading({d.state, qoi::Quantity::set_back}, d.set_back);
  q.scale = across * std::abs(d.drop);
  return q;
}

void add_load_offset_error(const input::DoorCase& c, const analysis::OpenDoorResult& d,
                           std::vector<QuantityOfInterest>& all)
{
  if (!d.load_offset)
    return;
  for (const auto* ways : {&d.load_offset->sides, &d.load_offset->turned})
    for (const auto& way : *ways)
      add_load_offset_change(quantities_of(c, way), all);
  // Where other contacts begin to carry, the drop is split into play and steel in another way.
  QuantityOfInterest* steel = find_quantity(all, {d.state, qoi::Quantity::elastic_sag});
  const QuantityOfInterest* drop = find_quantity(all, {d.state, qoi::Quantity::drop});
  if (steel != nullptr && drop != nullptr)
    steel->load_offset_change = std::max(steel->load_offset_change, drop->load_offset_change);
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
  all.push_back(set_back(open_result));
  add_load_offset_error(door_case, open_result, all);
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
