// SPDX-License-Identifier: GPL-3.0-or-later
#include "cases/verdict/end_float_remedy.hpp"

#include "cases/input/units.hpp"
#include "cases/verdict/checks.hpp"
#include "cases/verdict/closed_quantities.hpp"
#include "cases/verdict/end_float_quantities.hpp"
#include "cases/verdict/quantities_of_interest.hpp"
#include "cases/verdict/quantity_table.hpp"
#include "solver/contact/end_float.hpp"

#include <fmt/format.h>
#include <fmt/ranges.h>

#include <algorithm>
#include <cmath>

namespace hangtrue::verdict
{

namespace
{

using input::unit::inch;

double step_of(const input::DoorCase& c)
{
  return c.units == input::UnitSystem::us ? inch / 64.0 : 1.0e-4;
}

std::string size_text(const input::DoorCase& c, double m)
{
  return c.units == input::UnitSystem::us ? input::tape_fraction(m) + " in"
                                          : fmt::format("{:.1f} mm", 1e3 * m);
}

const analysis::OpenDoorResult& free_one(const analysis::OpenDoorResult& d)
{
  return d.freed ? *d.freed : d;
}

// Play of each hinge with other end floats: what is used up stays.
contact::AxialPlay with_room(contact::AxialPlay play, const door::Door& door)
{
  for (auto& at : play.hinges) {
    const door::Hinge& hinge = door.hinges[at.hinge];
    const double share =
        at.required > 0.0 ? at.taken / at.required : (hinge.carries_weight ? 1.0 : 0.5);
    at.room = share * hinge.end_float;
  }
  return play;
}

// All checks with the end floats of `freed`.
std::vector<CheckResult> checks_when_freed(const input::DoorCase& freed,
                                           const std::vector<const analysis::OpenDoorResult*>& open,
                                           const std::vector<analysis::ClosedDoorResult>& closed)
{
  std::vector<CheckResult> all;
  for (const auto* d : open) {
    analysis::OpenDoorResult state = free_one(*d);
    state.axial = with_room(state.axial, freed.door);
    const auto found = evaluate_checks(freed, quantities_of(freed, state));
    all.insert(all.end(), found.begin(), found.end());
  }
  for (const auto& state : closed) {
    const auto found = evaluate_checks(freed, quantities_of(freed, state));
    all.insert(all.end(), found.begin(), found.end());
  }
  return all;
}

// A check in words, with the utilisation for sorting.
struct RemedyText {
  double utilisation = 0.0;
  qoi::QoiId id;
  std::string words;
};

// Of every check the state with the greatest utilisation, in that order.
std::vector<std::string> worst_of_each(std::vector<RemedyText> all)
{
  std::stable_sort(all.begin(), all.end(), [](const RemedyText& a, const RemedyText& b) {
    return a.utilisation > b.utilisation;
  });
  std::vector<qoi::QoiId> seen;
  std::vector<std::string> words;
  for (const auto& one : all)
    if (std::none_of(seen.begin(), seen.end(),
                     [&](const qoi::QoiId& id) { return qoi::same_number(id, one.id); })) {
      seen.push_back(one.id);
      words.push_back(one.words);
    }
  return words;
}

} // namespace

std::optional<input::DoorCase> with_free_hinges(const input::DoorCase& door_case,
                                                const EndFloatStates& states,
                                                const std::vector<CheckResult>& checks)
{
  const bool fails = std::any_of(checks.begin(), checks.end(), [](const CheckResult& check) {
    return check.verdict == Verdict::fails && is_of_end_float(check.id.quantity);
  });
  if (!fails)
    return std::nullopt;
  const auto drawn = contact::end_floats_of(door_case.door);
  auto floats = contact::with_one_bearing_hinge(door_case.door);
  for (std::size_t h = 0; h < floats.size(); ++h) {
    double needed = 0.0;
    for (const auto* d : states.open)
      needed = std::max(needed, free_one(*d).axial.hinges[h].required);
    // Where several rest, one that is to slide has half of its end float on the side that it used.
    const double halved = drawn[h].bears_weight && !floats[h].bears_weight ? 2.0 : 1.0;
    for (const auto* d : states.closed)
      needed = std::max(needed, halved * d->axial.hinges[h].required);
    constexpr double so_that_it_holds = 1.0 / 0.9; // above 90 % of the play a check is close
    const double step = step_of(door_case);
    const double enough = step * std::ceil(so_that_it_holds * needed / step);
    floats[h].end_float = std::max(drawn[h].end_float, enough);
  }
  if (floats == drawn)
    return std::nullopt;
  input::DoorCase freed = door_case;
  freed.door = contact::with_end_floats(freed.door, floats);
  return freed;
}

std::string end_float_text(const input::DoorCase& drawn, const input::DoorCase& freed)
{
  std::vector<std::string> words;
  for (std::size_t h = 0; h < freed.door.hinges.size(); ++h) {
    const door::Hinge& hinge = freed.door.hinges[h];
    const double before = drawn.door.hinges[h].end_float;
    std::string said =
        fmt::format("hinge {} {}", h + 1, hinge.carries_weight ? "carries" : "slides");
    if (hinge.end_float > before)
      said += fmt::format(", end float {} in place of {}", size_text(drawn, hinge.end_float),
                          size_text(drawn, before));
    words.push_back(said);
  }
  return fmt::format("free the hinges along the pin: {}", fmt::join(words, "; "));
}

Remedy end_float_remedy(const input::DoorCase& drawn, const input::DoorCase& freed)
{
  Remedy result;
  result.text = end_float_text(drawn, freed);
  result.closing = analysis::closing_setup(freed.door);
  return result;
}

std::string end_float_remedy_text(const input::DoorCase& drawn, const input::DoorCase& freed,
                                  const std::vector<const analysis::OpenDoorResult*>& open,
                                  const std::vector<analysis::ClosedDoorResult>& closed,
                                  const std::vector<CheckResult>& checks)
{
  const auto after = checks_when_freed(freed, open, closed);
  const auto of_limit = [&](const CheckResult& check) {
    const auto shown = [&](double value) {
      return value_text(check.id.quantity, value, drawn.units, 2);
    };
    return shown(check.found) + " of " + shown(check.limit);
  };
  std::vector<RemedyText> cured;
  std::vector<RemedyText> left;
  for (const auto& before : checks) {
    if (before.verdict != Verdict::fails)
      continue;
    const std::string name = fmt::format("{} ({})", quantity_label(drawn, before.id),
                                         system::state_label(before.id.state));
    for (const auto& now : after)
      if (now.id == before.id) {
        if (now.verdict == Verdict::fails)
          left.push_back({now.utilisation, now.id, fmt::format("{}: {}", name, of_limit(now))});
        else
          cured.push_back(
              {before.utilisation, now.id,
               fmt::format("{}: {} in place of {}", name, of_limit(now), of_limit(before))});
      }
  }
  std::string words =
      fmt::format("{}: then {} of {} failed checks fail no more", end_float_text(drawn, freed),
                  cured.size(), cured.size() + left.size());
  if (!cured.empty())
    words += fmt::format(": {}", fmt::join(worst_of_each(cured), "; "));
  if (!left.empty())
    words += fmt::format("; still failing: {}", fmt::join(worst_of_each(left), "; "));
  return words;
}

} // namespace hangtrue::verdict
