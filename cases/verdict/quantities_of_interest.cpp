#include "cases/verdict/quantities_of_interest.hpp"

#include "cases/verdict/bearing_position_error.hpp"
#include "cases/verdict/check_result.hpp"
#include "cases/verdict/checks.hpp"
#include "cases/verdict/closed_checks.hpp"
#include "cases/verdict/thermal_checks.hpp"
#include "solver/heat/thermal_state.hpp"
#include "solver/qoi/straightedge_readings.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

namespace hangtrue
{

namespace
{

std::vector<Answer> checked(const std::vector<Finding>& findings)
{
  std::vector<Answer> made;
  for (const auto& f : findings) {
    made.push_back({f.state, f.name, f.found, f.kind, f.plain, f.limit});
    made.back().checked = true;
  }
  return made;
}

// A lid's drop and lean with its loads a hair off, against as drawn.
void add_hair(const Deflection& d, std::vector<Answer>& all)
{
  if (!d.poise)
    return;
  for (auto& answer : all)
    for (const auto& side : d.poise->sides) {
      if (answer.name == "drop of the latch corner")
        answer.by_hair = std::max(answer.by_hair, std::abs(side.drop - d.drop));
      if (answer.name == "lean of the latch edge")
        answer.by_hair = std::max(answer.by_hair, std::abs(side.lean - d.lean));
    }
}

void add_bow(const Deflection& d, std::vector<Answer>& all)
{
  const BowReadings& b = d.bow;
  const auto add = [&](const char* name, double value) {
    all.push_back({d.state, name, value, Kind::length, false, 0.0});
  };
  const std::size_t first = all.size();
  add("outer skin across", b.outer_across);
  add("outer skin along", b.outer_along);
  add("outer skin diagonal", b.outer_diagonal);
  add("outer skin, middle against corners", b.outer_corners);
  add("inner skin across", b.inner_across);
  add("inner skin along", b.inner_along);
  add("inner skin diagonal", b.inner_diagonal);
  add("inner skin, middle against corners", b.inner_corners);
  add("growth in width", b.width_growth);
  add("growth in height", b.height_growth);
  double most = 0.0;
  for (std::size_t i = first; i < all.size(); ++i)
    most = std::max(most, std::abs(all[i].value));
  for (std::size_t i = first; i < all.size(); ++i) {
    all[i].settling = Settling::bow;
    all[i].scale = most;
  }
}

void add_warmth(const Deflection& d, std::vector<Answer>& all)
{
  const Warmth& w = d.warmth;
  const auto add = [&](const char* name, double value) {
    all.push_back({d.state, name, value, Kind::temperature, false, 0.0});
  };
  add("inner skin, mean", w.inner_skin);
  add("outer skin, mean", w.outer_skin);
  add("outside in the middle", w.outside_middle);
  add("rim, mean", w.rim);
  add("knuckles", w.knuckles);
  add("jamb", w.jamb);
}

void add_buckling(const Deflection& d, std::vector<Answer>& all)
{
  for (const auto& skin : d.buckling) {
    for (auto& answer : all)
      if (answer.name == buckling_name(skin))
        answer.settling = Settling::plates;
    if (!skin.not_judged.empty() || !(skin.clamped.use > 0.0))
      continue;
    all.push_back(
        {d.state, clamped_buckling_name(skin), skin.clamped.use, Kind::stress, true, 0.0});
    all.back().settling = Settling::plates;
  }
}

// Strength of pins, knuckles, leaves and welds is linear in forces, and so is their greatest force.
void add_hinge_forces(const HingesAt& hinges, Settling settling, std::vector<Answer>& all)
{
  for (auto& answer : all)
    if (answer.kind == Kind::stress)
      answer.settling = settling;
  add_levers(hinges, all);
  double force = 0.0;
  for (const auto& k : hinges.knuckles)
    force = std::max(force, k.greatest_force);
  all.push_back({hinges.state, "largest force on a knuckle", force, Kind::force, false, 0.0});
  all.back().settling = settling;
}

} // namespace

std::vector<Answer> answers_of(const DoorCase& door_case, const Deflection& deflection)
{
  std::vector<Answer> all = checked(judge(door_case, deflection));
  add_hinge_forces(hinges_at(door_case.door, deflection), Settling::hinge_forces, all);
  for (auto& answer : all)
    for (const auto& plate : deflection.plates)
      if (answer.name == std::string(plate_label(plate.plate)) + " stays elastic")
        answer.settling = Settling::plates;
  add_buckling(deflection, all);
  add_hair(deflection, all);
  const StateId& state = deflection.state;
  all.push_back({state, "set-back", deflection.set_back, Kind::length, false, 0.0});
  // Set-back lies across the forces on the pins, where the place of a pin in its bore counts in
  // full.
  constexpr double across = 5.0;
  for (auto& answer : all) {
    if (answer.name == "lean of the latch edge" || answer.name == "sag from steel alone")
      answer.scale = std::abs(deflection.drop);
    if (answer.name == "end float taken")
      answer.scale = answer.limit;
    if (answer.name == "set-back")
      answer.scale = across * std::abs(deflection.drop);
  }
  if (deflection.warm) {
    add_bow(deflection, all);
    add_warmth(deflection, all);
  }
  for (const auto& split : deflection.splits)
    for (auto& answer : all)
      if (split.missing && split.quantity == Quantity::drop &&
          answer.name == "drop of the latch corner")
        answer.missing = split.missing;
  return all;
}

std::vector<Answer> answers_of(const DoorCase& door_case, const ClosedDoor& closed)
{
  std::vector<Answer> all = checked(judge_closed(door_case, closed));
  const StateId& state = closed.state;
  double least = closed.sum.most_squeeze;
  for (const auto& g : closed.gasket)
    least = std::min(least, g.squeeze);
  all.push_back({state, "least squeeze of the gasket", least, Kind::length, false, 0.0});
  all.push_back(
      {state, "mean load of the gasket", closed.sum.mean_load, Kind::force_per_length, false, 0.0});
  for (const auto& latch : closed.latches)
    all.push_back({state, fmt::format("force of latch {}", latch.latch + 1), latch.force,
                   Kind::force, false, 0.0});
  for (auto& answer : all) {
    answer.settling = Settling::shut;
    if (answer.name == "end float taken")
      answer.scale = answer.limit;
  }
  const Door door = standing_shut(door_case);
  add_hinge_forces(hinges_at(door, closed), Settling::shut_hinge_forces, all);
  return all;
}

const Answer* find_answer(const std::vector<Answer>& answers, const std::string& name)
{
  const auto at =
      std::find_if(answers.begin(), answers.end(), [&](const Answer& a) { return a.name == name; });
  return at != answers.end() ? &*at : nullptr;
}

double error_of(const std::vector<Answer>& answers, const StateId& state, const std::string& name)
{
  for (const auto& a : answers)
    if (a.state == state && a.name == name)
      return a.error;
  return 0.0;
}

} // namespace hangtrue
