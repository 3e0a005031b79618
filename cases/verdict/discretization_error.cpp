#include "cases/verdict/discretization_error.hpp"

#include "cases/verdict/quantities_of_interest.hpp"
#include "solver/contact/gasket_model.hpp"
#include "solver/firing/firing_replay.hpp"

#include <algorithm>
#include <cmath>

namespace hangtrue
{

namespace
{

constexpr const char* squeeze_name = "least squeeze of the gasket";
constexpr const char* load_name = "least load of the gasket";

Answer* named(std::vector<Answer>& answers, const std::string& name)
{
  const auto at =
      std::find_if(answers.begin(), answers.end(), [&](const Answer& a) { return a.name == name; });
  return at != answers.end() ? &*at : nullptr;
}

// What is left of the change between two levels: Richardson's change / (r^p - 1) times the factor
// of safety that Roache gives to two grids whose order was not observed (Perspective: a method for
// uniform reporting of grid refinement studies, J. Fluids Eng. 116, 1994, 405-413).
double share_left(Settling settling, const LevelPair& levels)
{
  constexpr double safety = 3.0;
  if (settling == Settling::shut_hinge_forces)
    return std::max(share_left(Settling::shut, levels), share_left(Settling::hinge_forces, levels));
  const double panel = (levels.last.whole + 1.0) / (levels.before.whole + 1.0);
  const double along_knuckle = 1.0 * levels.last.in_hinges / levels.before.in_hinges;
  double ratio = settling == Settling::hinge_forces ? along_knuckle : panel;
  if (settling == Settling::bow && levels.before.whole == 1) // cells between the skins are halved
    ratio = 2.0;
  // What hangs on corners of welds and of knuckles settles by 2; a bow and a panel between gasket
  // and latches hang on smooth fields.
  const double order = settling == Settling::shut || settling == Settling::bow ? 3.0 : 2.0;
  const double left = safety / (std::pow(ratio, order) - 1.0);
  return levels.in_time ? std::max(1.0, left) : left; // a change by steps in time settles by none
}

// Share of the answer below which two levels cannot tell an error: where a pin bears moves by whole
// cells, in a closed door from node to node of a bore, and so does the place of a patch. As
// observed (docs/mesh-error.md).
double least_told(Settling settling)
{
  switch (settling) {
  case Settling::on_hinges:
  case Settling::bow:
    return 0.005;
  case Settling::shut:
    return 0.01;
  case Settling::hinge_forces:
  case Settling::plates:
    return 0.02;
  case Settling::shut_hinge_forces:
    break;
  }
  return 0.03;
}

std::vector<Answer> compared(std::vector<Answer> last, const std::vector<Answer>& before,
                             const LevelPair& levels)
{
  for (auto& answer : last)
    if (const Answer* same = find_answer(before, answer.name)) {
      answer.error = error_told(answer, *same, levels);
      answer.error_known = true;
    }
  return last;
}

// The load hangs on the squeeze by the gasket's law, which is flat where it lies open: its error is
// what the error of the squeeze does to the load, either way.
void through_the_law(const Gasket& gasket, std::vector<Answer>& answers)
{
  Answer* load = named(answers, load_name);
  const Answer* squeeze = named(answers, squeeze_name);
  if (load == nullptr || squeeze == nullptr)
    return;
  const auto at = [&](double s) { return line_load(gasket, s).load; };
  const double here = at(squeeze->value);
  load->error = std::max(at(squeeze->value + squeeze->error) - here,
                         here - at(squeeze->value - squeeze->error));
}

// States that were not computed twice take the largest error of those that were, and never less
// than what their own mesh tells.
void take_over(const std::vector<std::vector<Answer>>& from, std::vector<Answer>& answers)
{
  for (auto& answer : answers) {
    answer.taken_over = true;
    if (answer.missing) {
      answer.error = error_by_dual(answer);
      answer.error_known = true;
    }
    for (const auto& state : from)
      if (const Answer* same = find_answer(state, answer.name)) {
        answer.error = std::max(answer.error, same->error);
        answer.error_known = true;
      }
  }
}

using AnswersOfStates = std::vector<std::vector<Answer>>;

// Which of the warm states are computed again: the most bowed and the steady one.
std::vector<std::size_t> again_of(std::size_t states)
{
  if (states == 0)
    return {};
  return states == 1 ? std::vector<std::size_t>{0} : std::vector<std::size_t>{0, states - 1};
}

// The steady state is the last and has no steps in time, like skins as measured, which are alone.
LevelPair pair_of(const LevelBefore& before, const StatesFound& found, std::size_t warm)
{
  return {found.levels, before.levels, warm + 1 != found.warm.size()};
}

void append(const AnswersOfStates& states, std::vector<Answer>& all)
{
  for (const auto& state : states)
    all.insert(all.end(), state.begin(), state.end());
}

AnswersOfStates open_answers(const DoorCase& c, const StatesFound& found, const LevelBefore& before,
                             const AnswersBefore& answered)
{
  AnswersOfStates made(found.warm.size());
  AnswersOfStates known;
  for (const auto& state : answered.states) {
    const std::size_t s = state.again;
    made[s] = compared(answers_of(c, found.warm[s]), state.open, pair_of(before, found, s));
    known.push_back(made[s]);
  }
  for (std::size_t s = 0; s < made.size(); ++s)
    if (made[s].empty()) {
      made[s] = answers_of(c, found.warm[s]);
      take_over(known, made[s]);
    }
  return made;
}

AnswersOfStates closed_answers(const DoorCase& c, const StatesFound& found,
                               const LevelBefore& before, const AnswersBefore& answered)
{
  AnswersOfStates made(found.closed.size());
  AnswersOfStates known;
  const auto compare = [&](std::size_t state, const std::vector<Answer>& with,
                           const LevelPair& levels) {
    made[state] = compared(answers_of(c, found.closed[state]), with, levels);
    through_the_law(c.door.gasket, made[state]);
    known.push_back(made[state]);
  };
  compare(0, answered.closed_cold, {found.levels, before.levels, false});
  for (const auto& state : answered.states)
    compare(state.again + 1, state.closed, pair_of(before, found, state.again));
  for (std::size_t s = 0; s < made.size(); ++s)
    if (made[s].empty()) {
      made[s] = answers_of(c, found.closed[s]);
      take_over(known, made[s]);
      through_the_law(c.door.gasket, made[s]);
    }
  return made;
}

// What the least error is a share of: the answer, what it is a small difference of, and a tenth of
// its limit, below which nobody asks.
double floor_scale(const Answer& answer)
{
  return std::max({std::abs(answer.value), answer.scale, 0.1 * answer.limit});
}

} // namespace

double error_by_change(const Answer& last, const Answer& before, const LevelPair& levels)
{
  const double moved = last.limit > 0.0 && before.limit > 0.0 ? last.limit / before.limit : 1.0;
  const double change = std::abs(last.value - moved * before.value);
  // With two cells along a knuckle a hundredth of it, as observed (docs/mesh-error.md).
  const double lever = 0.02 / levels.last.in_hinges * last.by_lever;
  // A tenth of a micrometre is nothing that a door moves by.
  const double unreadable = last.kind == Kind::length ? 1e-7 : 0.0; // m
  return std::max({share_left(last.settling, levels) * change,
                   least_told(last.settling) * floor_scale(last), lever, last.by_hair, unreadable});
}

double error_by_dual(double missing, double value)
{
  constexpr double edge = 9.0 / 5.0; // of 1 where all is smooth and 9/5 at the edge of a weld
  return std::max(edge * std::abs(missing), least_told(Settling::on_hinges) * std::abs(value));
}

double error_by_dual(const Answer& answer)
{
  return std::max(error_by_dual(answer.missing.value_or(0.0), answer.value), answer.by_hair);
}

double error_told(const Answer& last, const Answer& before, const LevelPair& levels)
{
  if (!last.missing)
    return error_by_change(last, before, levels);
  if (last.settling == Settling::on_hinges && !levels.in_time)
    return error_by_dual(last);
  return std::max(error_by_dual(last), error_by_change(last, before, levels));
}

namespace
{

std::vector<Answer> closed_before(const DoorCase& c, const LevelBefore& before,
                                  const WarmDoor* heat)
{
  if (!can_shut(c.door))
    return {};
  ShutDoor door(c.door, before.shut->mesh, heat, c.door.latches, *before.parts,
                before.shut_touches);
  const ClosedDoor closed = door.close(closing_of(c.door), {});
  if (before.parts->for_one_door && heat != nullptr)
    door.keep_checks_only(before.parts);
  return answers_of(c, closed);
}

} // namespace

std::vector<StateBefore> heat_before(const DoorCase& c, const std::vector<WarmDoor>& warm,
                                     const LevelBefore& before)
{
  std::vector<StateBefore> made;
  std::vector<WantedState> wanted;
  for (const std::size_t s : again_of(warm.size())) {
    const bool steady = c.door.fire.measured.given || s + 1 == warm.size();
    wanted.push_back({warm[s].state, warm[s].warmth.time, steady});
    made.push_back({s, {}, {}, {}});
  }
  if (wanted.empty())
    return made;
  const auto& heats = heat_again(*before.heat, wanted);
  for (std::size_t i = 0; i < made.size(); ++i)
    made[i].heat = heats[i];
  return made;
}

void answer_before(const DoorCase& c, const LevelBefore& before, StateBefore& state)
{
  state.open = answers_of(c, solve_open_door({.door = c.door,
                                              .mesh = before.mesh,
                                              .thermal = &state.heat,
                                              .cache = before.parts,
                                              .detail = OpenDetail::parts,
                                              .warm_start = before.open.touches}));
  state.closed = closed_before(c, before, &state.heat);
}

std::vector<Answer> closed_cold_before(const DoorCase& c, const LevelBefore& before)
{
  return closed_before(c, before, nullptr);
}

std::vector<Answer> answers_with_errors(const DoorCase& door_case, const StatesFound& found,
                                        const LevelBefore& before, const AnswersBefore& answered)
{
  std::vector<Answer> all =
      compared(answers_of(door_case, found.open), answers_of(door_case, before.open),
               {found.levels, before.levels, false});
  append(open_answers(door_case, found, before, answered), all);
  if (!found.closed.empty())
    append(closed_answers(door_case, found, before, answered), all);
  return all;
}

void judge_with_errors(const std::vector<Answer>& answers, std::vector<Finding>& findings)
{
  for (auto& finding : findings)
    for (const auto& answer : answers)
      if (answer.error_known && answer.state == finding.state && answer.name == finding.name) {
        finding.error = answer.error;
        finding.error_known = true;
        finding.verdict = judge_again(finding);
      }
}

bool above_tolerance(const Finding& finding, double tolerance)
{
  return finding.error_known && finding.error > tolerance * finding.limit;
}

bool hangs_in_the_error(const Finding& finding, double tolerance)
{
  return above_tolerance(finding, tolerance) &&
         std::abs(finding.found - finding.limit) < finding.error;
}

} // namespace hangtrue
