#include "cases/verdict/end_float_remedy.hpp"

#include "cases/verdict/checks.hpp"
#include "cases/verdict/closed_checks.hpp"
#include "cases/verdict/end_float_checks.hpp"
#include "solver/contact/end_float.hpp"

#include <fmt/format.h>
#include <fmt/ranges.h>

#include <algorithm>
#include <cmath>

namespace hangtrue
{

namespace
{

using unit::inch;

double step_of(const DoorCase& c)
{
  return c.units == Units::us ? inch / 64.0 : 1.0e-4;
}

std::string size_text(const DoorCase& c, double m)
{
  return c.units == Units::us ? tape_fraction(m) + " in" : fmt::format("{:.1f} mm", 1e3 * m);
}

const Deflection& free_one(const Deflection& d)
{
  return d.freed ? *d.freed : d;
}

// Room of each hinge with other end floats: what is used up stays.
AxialPlay with_room(AxialPlay play, const Door& door)
{
  for (auto& at : play.hinges) {
    const Hinge& hinge = door.hinges[at.hinge];
    const double share =
        at.needed > 0.0 ? at.taken / at.needed : (hinge.carries_weight ? 1.0 : 0.5);
    at.room = share * hinge.end_float;
  }
  return play;
}

// All checks with the end floats of `freed`.
std::vector<Finding> judge_freed(const DoorCase& freed, const std::vector<const Deflection*>& open,
                                 const std::vector<ClosedDoor>& closed)
{
  std::vector<Finding> all;
  for (const auto* d : open) {
    Deflection state = free_one(*d);
    state.axial = with_room(state.axial, freed.door);
    const auto found = judge(freed, state);
    all.insert(all.end(), found.begin(), found.end());
  }
  for (const auto& state : closed) {
    const auto found = judge_closed(freed, state);
    all.insert(all.end(), found.begin(), found.end());
  }
  return all;
}

// A check in words, with the use that it is sorted by.
struct Told {
  double use = 0.0;
  std::string name;
  std::string words;
};

// Of every check the state with the greatest use, in that order.
std::vector<std::string> worst_of_each(std::vector<Told> all)
{
  std::stable_sort(all.begin(), all.end(),
                   [](const Told& a, const Told& b) { return a.use > b.use; });
  std::vector<std::string> names;
  std::vector<std::string> words;
  for (const auto& told : all)
    if (std::find(names.begin(), names.end(), told.name) == names.end()) {
      names.push_back(told.name);
      words.push_back(told.words);
    }
  return words;
}

std::string value_text(const DoorCase& c, const Finding& f, double value)
{
  return f.plain ? fmt::format("{:.2f}", value) : format_short(value, f.kind, c.units);
}

} // namespace

std::optional<DoorCase> freed_case(const DoorCase& door_case, const FloatStates& states,
                                   const std::vector<Finding>& findings)
{
  const bool fails = std::any_of(findings.begin(), findings.end(), [](const Finding& f) {
    return f.verdict == Verdict::fails && is_of_float(f);
  });
  if (!fails)
    return std::nullopt;
  const auto drawn = floats_of(door_case.door);
  auto floats = one_carries(door_case.door);
  for (std::size_t h = 0; h < floats.size(); ++h) {
    double needed = 0.0;
    for (const auto* d : states.open)
      needed = std::max(needed, free_one(*d).axial.hinges[h].needed);
    // Where several rest, one that is to slide has half of its end float on the side that it used.
    const double halved = drawn[h].carries && !floats[h].carries ? 2.0 : 1.0;
    for (const auto* d : states.closed)
      needed = std::max(needed, halved * d->axial.hinges[h].needed);
    constexpr double so_that_it_holds = 1.0 / 0.9; // above 90 % of the room a check is close
    const double step = step_of(door_case);
    const double enough = step * std::ceil(so_that_it_holds * needed / step);
    floats[h].end_float = std::max(drawn[h].end_float, enough);
  }
  if (floats == drawn)
    return std::nullopt;
  DoorCase freed = door_case;
  freed.door = with_floats(freed.door, floats);
  return freed;
}

std::string float_words(const DoorCase& drawn, const DoorCase& freed)
{
  std::vector<std::string> words;
  for (std::size_t h = 0; h < freed.door.hinges.size(); ++h) {
    const Hinge& hinge = freed.door.hinges[h];
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

Change float_change(const DoorCase& drawn, const DoorCase& freed)
{
  Change made;
  made.words = float_words(drawn, freed);
  made.closing = closing_of(freed.door);
  return made;
}

std::string float_advice(const DoorCase& drawn, const DoorCase& freed,
                         const std::vector<const Deflection*>& open,
                         const std::vector<ClosedDoor>& closed,
                         const std::vector<Finding>& findings)
{
  const auto after = judge_freed(freed, open, closed);
  const auto of_limit = [&](const Finding& f) {
    return value_text(drawn, f, f.found) + " of " + value_text(drawn, f, f.limit);
  };
  std::vector<Told> cured;
  std::vector<Told> left;
  for (const auto& before : findings) {
    if (before.verdict != Verdict::fails)
      continue;
    for (const auto& now : after)
      if (now.name == before.name && now.state == before.state) {
        if (now.verdict == Verdict::fails)
          left.push_back(
              {now.use, now.name, fmt::format("{} ({}): {}", now.name, now.state, of_limit(now))});
        else
          cured.push_back({before.use, now.name,
                           fmt::format("{} ({}): {} in place of {}", now.name, now.state,
                                       of_limit(now), of_limit(before))});
      }
  }
  std::string words =
      fmt::format("{}: then {} of {} failed checks fail no more", float_words(drawn, freed),
                  cured.size(), cured.size() + left.size());
  if (!cured.empty())
    words += fmt::format(": {}", fmt::join(worst_of_each(cured), "; "));
  if (!left.empty())
    words += fmt::format("; still failing: {}", fmt::join(worst_of_each(left), "; "));
  return words;
}

} // namespace hangtrue
