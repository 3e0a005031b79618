#include "cases/answers.hpp"

#include "cases/closed_findings.hpp"
#include "solver/strength.hpp"

#include <fmt/format.h>

#include <algorithm>

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

// Moment of the greatest force on a knuckle of that hinge with the length of that knuckle, N m.
double lever_moment(const Door& door, const Deflection& d, int hinge)
{
  double most = 0.0;
  for (const auto& k : d.knuckles)
    if (k.hinge == hinge)
      most = std::max(most, norm(k.pin_force) * door.hinges[hinge].knuckles[k.knuckle].length);
  return most;
}

// Of the pin that is bent most. Its use in bending and shear grows with the square of the moment
// (EN 1993-1-8 Table 3.10).
void add_levers(const Door& door, const Deflection& d, std::vector<Answer>& all)
{
  const auto stress = [&](const PinForces& pin, double moment) {
    return pin_bending_stress(moment, door.hinges[pin.hinge].pin_diameter);
  };
  const auto worst =
      std::max_element(d.pins.begin(), d.pins.end(), [&](const PinForces& a, const PinForces& b) {
        return stress(a, a.greatest_bending) < stress(b, b.greatest_bending);
      });
  if (worst == d.pins.end() || !(worst->greatest_bending > 0.0))
    return;
  const double moment = lever_moment(door, d, worst->hinge);
  for (auto& answer : all) {
    if (answer.name == "pin bending")
      answer.by_lever = stress(*worst, moment);
    if (answer.name == "pin bending and shear together")
      answer.by_lever = 2.0 * moment / worst->greatest_bending * answer.value;
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
  for (std::size_t i = first; i < all.size(); ++i)
    all[i].settling = Settling::bow;
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

} // namespace

std::vector<Answer> answers_of(const DoorCase& door_case, const Deflection& deflection)
{
  std::vector<Answer> all = checked(judge(door_case, deflection));
  for (auto& answer : all) // strength of pins, knuckles, leaves and welds is linear in forces
    if (answer.plain || answer.kind == Kind::stress)
      answer.settling = Settling::hinge_forces;
  for (auto& answer : all)
    for (const auto& plate : deflection.plates)
      if (answer.name == plate.plate + " stays elastic")
        answer.settling = Settling::plates;
  add_levers(door_case.door, deflection, all);
  const std::string& state = deflection.state;
  all.push_back({state, "set-back", deflection.set_back, Kind::length, false, 0.0});
  double force = 0.0;
  for (const auto& k : deflection.knuckles)
    force = std::max(force, norm(k.pin_force));
  all.push_back({state, "largest force on a knuckle", force, Kind::force, false, 0.0});
  all.back().settling = Settling::hinge_forces;
  if (deflection.warm) {
    add_bow(deflection, all);
    add_warmth(deflection, all);
  }
  for (const auto& split : deflection.splits)
    for (auto& answer : all)
      if (split.missing && answer.name == split.answer)
        answer.missing = split.missing;
  return all;
}

std::vector<Answer> answers_of(const DoorCase& door_case, const ClosedDoor& closed)
{
  std::vector<Answer> all = checked(judge_closed(door_case, closed));
  const std::string& state = closed.state;
  double least = closed.sum.most_squeeze;
  for (const auto& g : closed.gasket)
    least = std::min(least, g.squeeze);
  all.push_back({state, "least squeeze of the gasket", least, Kind::length, false, 0.0});
  all.push_back(
      {state, "mean load of the gasket", closed.sum.mean_load, Kind::force_per_length, false, 0.0});
  for (const auto& latch : closed.latches)
    all.push_back({state, fmt::format("force of latch {}", latch.latch + 1), latch.force,
                   Kind::force, false, 0.0});
  double force = 0.0;
  for (const auto& k : closed.knuckles)
    force = std::max(force, norm(k.pin_force));
  all.push_back({state, "largest force on a knuckle", force, Kind::force, false, 0.0});
  for (auto& answer : all)
    answer.settling = Settling::shut;
  return all;
}

const Answer* find_answer(const std::vector<Answer>& answers, const std::string& name)
{
  const auto at =
      std::find_if(answers.begin(), answers.end(), [&](const Answer& a) { return a.name == name; });
  return at != answers.end() ? &*at : nullptr;
}

double error_of(const std::vector<Answer>& answers, const std::string& state,
                const std::string& name)
{
  for (const auto& a : answers)
    if (a.state == state && a.name == name)
      return a.error;
  return 0.0;
}

} // namespace hangtrue
