#include "cases/check/thermal_states.hpp"

#include "cases/runtime/heap_trim.hpp"

#include <algorithm>
#include <cmath>
#include <cstddef>
#include <optional>
#include <string>
#include <utility>

namespace hangtrue
{

ClosedDoor close_in(const DoorCase& door_case, ShutDoor& shut, const ThermalStateId& thermal,
                    const std::vector<const ClosedDoor*>& after)
{
  const Closing closing = closing_of(door_case.door);
  ClosedDoor found = shut.close(closing, after);
  found.state = {Standing::shut, thermal};
  found.split = shut.least_squeeze(closing, found).split;
  return found;
}

namespace
{

void close_warm(const StatesWork& work, const Closed& closed, const WarmDoor& warm,
                WarmAnswer& answer)
{
  auto shut = std::make_unique<ShutDoor>(work.door_case.door, closed.shut->mesh, &warm,
                                         closed.places, work.parts, closed.touches);
  answer.closed = close_in(work.door_case, *shut, warm.state, {});
  answer.shut = std::make_unique<TrialDoor>(std::move(shut));
}

// The instant at which the gasket presses least somewhere: among some ten of the steps after the
// door has bowed to a tenth of its largest bow, each closed with the stiffness of the cold door and
// recorded.
const WarmInstant* loosest(const DoorCase& door_case, const Closed& closed, const Firing& firing,
                           std::vector<ShutInstant>& kept)
{
  const Door& door = door_case.door;
  double largest = 0.0;
  for (const auto& i : firing.way)
    largest = std::max(largest, std::abs(i.hand));
  std::vector<const WarmInstant*> tried;
  for (const auto& i : firing.way)
    if (std::abs(i.hand) > 0.1 * largest)
      tried.push_back(&i);
  constexpr std::size_t most = 10;
  const std::size_t step = std::max<std::size_t>(1, tried.size() / most);
  const WarmInstant* worst = nullptr;
  double least = 0.0;
  for (std::size_t i = 0; i < tried.size(); i += step) {
    const double jamb = warmth_of(door, closed.shut->mesh.door, tried[i]->at).jamb;
    kept.push_back(closed.cold->glance_at(closing_of(door), tried[i]->at, jamb));
    kept.back().time = tried[i]->time;
    if (worst == nullptr || kept.back().least_load < least) {
      worst = tried[i];
      least = kept.back().least_load;
    }
  }
  return worst;
}

// The open state and, unless `closed` is null, the closed one.
WarmAnswer answer_warm(const StatesWork& work, const WarmDoor& state, const Closed* closed,
                       const Progress& tell)
{
  WarmAnswer answer;
  give_free_pages_back(); // memory is shortest now
  answer.open = solve_open_door({.door = work.door_case.door,
                                 .mesh = work.run.mesh,
                                 .progress = tell,
                                 .thermal = &state,
                                 .cache = &work.parts,
                                 .detail = OpenDetail::budget,
                                 .warm_start = work.run.deflection.touches});
  if (closed != nullptr) {
    tell("closed", 0.7);
    close_warm(work, *closed, state, answer);
  }
  return answer;
}

// The loosest instant, where no warm state stands for it, closed as well.
std::optional<WarmAnswer> close_loosest(const StatesWork& work, const Firing& firing,
                                        Closed& closed)
{
  if (firing.way.empty())
    return std::nullopt;
  if (work.progress)
    work.progress("closed, the loosest instant", 0.9);
  const WarmInstant* worst = loosest(work.door_case, closed, firing, work.run.shut_way);
  const bool seen = std::any_of(firing.states.begin(), firing.states.end(), [&](const auto& s) {
    return worst == nullptr || std::abs(s.warmth.time - worst->time) < 0.1 * worst->time;
  });
  if (seen)
    return std::nullopt;
  closed.loosest = std::make_unique<WarmDoor>(
      state_at(work.door_case.door, work.run.mesh.door, {ThermalCase::gasket_loosest, worst->time},
               worst->at, firing.states.front().warmth.energy_error));
  std::optional<WarmAnswer> made(std::in_place);
  close_warm(work, closed, *closed.loosest, *made);
  return made;
}

void add_cooled(const StatesWork& work, const Closed& closed)
{
  if (work.progress)
    work.progress("closed, cooled again", 0.93);
  std::vector<const ClosedDoor*> after;
  for (const auto& earlier : work.run.closed)
    after.push_back(&earlier);
  work.run.closed.push_back(close_in(work.door_case, *closed.cold, {ThermalCase::cooled}, after));
}

// What was found, into the check, and the door cooled again after all of it.
void put_in_order(const StatesWork& work, WarmStates& states)
{
  const auto add_closed = [&](WarmAnswer& answer) {
    work.run.closed.push_back(std::move(*answer.closed));
    states.closed->hot.push_back(std::move(answer.shut));
  };
  work.run.curve = states.firing.curve;
  for (std::size_t i = 0; i < states.answers.size(); ++i) {
    work.run.warm.push_back(std::move(states.answers[i].open));
    work.run.fields.push_back(states.firing.states[i].at);
    if (states.closed != nullptr)
      add_closed(states.answers[i]);
  }
  if (states.loosest)
    add_closed(*states.loosest);
  if (states.closed != nullptr)
    add_cooled(work, *states.closed);
}

Task warm_task(const StatesWork& work, WarmStates& states, std::size_t i)
{
  const double each = 0.5 / static_cast<double>(states.firing.states.size());
  const double done = 0.4 + each * static_cast<double>(i);
  const std::string label = state_label({Standing::open, states.firing.states[i].state});
  return {"warm state " + std::to_string(i), {}, [&work, &states, i, each, done, label] {
            const Progress tell = [&](const std::string& stage, double share) {
              if (work.progress)
                work.progress(label + ": " + stage, done + each * share);
            };
            states.answers[i] = answer_warm(work, states.firing.states[i], states.closed, tell);
          }};
}

// The heat of the level before, and the states that are answered in it.
Task heat_before_task(const StatesWork& work, WarmStates& states)
{
  return {"heat on the level before", {}, [&work, &states] {
            LevelBefore& before = work.before;
            before.heat =
                heat_of(work.door_case.door, before.mesh.door, before.levels, before.parts->heats);
            states.before = heat_before(states.firing.states, before);
          }};
}

Task state_before_task(const StatesWork& work, WarmStates& states, std::size_t i)
{
  return {"state " + std::to_string(i) + " on the level before",
          {"heat on the level before"},
          [&work, &states, i] { answer_before(work.door_case, work.before, states.before[i]); }};
}

} // namespace

std::vector<Task> warm_tasks(const StatesWork& work, WarmStates& states)
{
  const std::size_t count = states.firing.states.size();
  const bool two_levels = work.before.levels.whole > 0;
  states.answers.resize(count);
  std::vector<Task> tasks;
  std::vector<std::string> all;
  for (std::size_t i = 0; i < count; ++i) {
    tasks.push_back(warm_task(work, states, i));
    all.push_back(tasks.back().name);
    // Second of all, so that two panels are not assembled at once.
    if (i == 0 && two_levels)
      tasks.push_back(heat_before_task(work, states));
  }
  if (states.closed != nullptr) {
    tasks.push_back({"loosest instant", {}, [&work, &states] {
                       states.loosest = close_loosest(work, states.firing, *states.closed);
                     }});
    all.push_back(tasks.back().name);
  }
  tasks.push_back(
      {"in the order of the check", all, [&work, &states] { put_in_order(work, states); }});
  for (std::size_t i = 0; two_levels && i < again_of(count).size(); ++i)
    tasks.push_back(state_before_task(work, states, i));
  return tasks;
}

} // namespace hangtrue
