// SPDX-License-Identifier: GPL-3.0-or-later
#include "cases/check/thermal_states.hpp"

#include "cases/runtime/heap_trim.hpp"

#include <algorithm>
#include <cmath>
#include <cstddef>
#include <optional>
#include <string>
#include <utility>

namespace hangtrue::check
{

analysis::ClosedDoorResult
solve_closed_state(const input::DoorCase& door_case, analysis::ClosedDoorAnalysis& closed_door,
                   const heat::ThermalStateId& thermal,
                   const std::vector<const analysis::ClosedDoorResult*>& after)
{
  const analysis::ClosingSetup closing = analysis::closing_setup(door_case.door);
  analysis::ClosedDoorResult found = closed_door.solve(closing, after);
  found.state = {system::DoorPosition::closed, thermal};
  found.split = closed_door.least_squeeze(closing, found).split;
  return found;
}

namespace
{

void close_thermal_state(const StatesContext& work, const ClosedStates& closed,
                         const heat::ThermalState& thermal, ThermalStateResult& result)
{
  auto closed_door = std::make_unique<analysis::ClosedDoorAnalysis>(
      work.door_case.door, closed.mesh->mesh, &thermal, closed.latch_positions, work.cache,
      closed.active_contacts);
  result.closed = solve_closed_state(work.door_case, *closed_door, thermal.state, {});
  result.closed_trial = std::make_unique<analysis::ClosedDoorTrial>(std::move(closed_door));
}

// The instant at which the gasket presses least somewhere: among some ten of the steps after the
// door has bowed to a tenth of its largest bow, each closed with the stiffness of the cold door and
// recorded.
const heat::HeatingStep* loosest(const input::DoorCase& door_case, const ClosedStates& closed,
                                 const firing::ThermalLoadCases& load_cases,
                                 std::vector<analysis::ClosedDoorSample>& sampled)
{
  const door::Door& door = door_case.door;
  double largest = 0.0;
  for (const auto& i : load_cases.history)
    largest = std::max(largest, std::abs(i.estimated_bow));
  std::vector<const heat::HeatingStep*> tried;
  for (const auto& i : load_cases.history)
    if (std::abs(i.estimated_bow) > 0.1 * largest)
      tried.push_back(&i);
  constexpr std::size_t maximum = 10;
  const std::size_t step = std::max<std::size_t>(1, tried.size() / maximum);
  const heat::HeatingStep* worst = nullptr;
  double minimum = 0.0;
  const fe::Discretization space(closed.mesh->mesh.door);
  for (std::size_t i = 0; i < tried.size(); i += step) {
    const double jamb = firing::temperature_summary(door, space, tried[i]->temperature).jamb;
    sampled.push_back(
        closed.cold->sample_at(analysis::closing_setup(door), tried[i]->temperature, jamb));
    sampled.back().time = tried[i]->time;
    if (worst == nullptr || sampled.back().min_load < minimum) {
      worst = tried[i];
      minimum = sampled.back().min_load;
    }
  }
  return worst;
}

// The open state and, unless `closed` is null, the closed one.
ThermalStateResult solve_thermal_state(const StatesContext& work, const heat::ThermalState& state,
                                       const ClosedStates* closed, const Progress& report)
{
  ThermalStateResult result;
  runtime::release_free_pages(); // memory is shortest now
  result.open = analysis::solve_open_door({.door = work.door_case.door,
                                           .mesh = work.run.mesh,
                                           .progress = report,
                                           .thermal = &state,
                                           .cache = &work.cache,
                                           .detail = analysis::ResultDetail::contributions,
                                           .warm_start = work.run.open_cold.active_contacts});
  if (closed != nullptr) {
    report("closed", 0.7);
    close_thermal_state(work, *closed, state, result);
  }
  return result;
}

// The loosest instant, where no warm state stands for it, closed as well.
std::optional<ThermalStateResult> close_loosest(const StatesContext& work,
                                                const firing::ThermalLoadCases& load_cases,
                                                ClosedStates& closed)
{
  if (load_cases.history.empty())
    return std::nullopt;
  if (work.progress)
    work.progress("closed, the loosest instant", 0.9);
  const heat::HeatingStep* worst =
      loosest(work.door_case, closed, load_cases, work.run.closed_history);
  const bool seen =
      std::any_of(load_cases.states.begin(), load_cases.states.end(), [&](const auto& s) {
        return worst == nullptr || std::abs(s.summary.time - worst->time) < 0.1 * worst->time;
      });
  if (seen)
    return std::nullopt;
  closed.loosest = std::make_unique<heat::ThermalState>(firing::thermal_state_at(
      work.door_case.door, work.run.mesh.door, {heat::ThermalCase::gasket_loosest, worst->time},
      worst->temperature, load_cases.states.front().summary.energy_error));
  std::optional<ThermalStateResult> result(std::in_place);
  close_thermal_state(work, closed, *closed.loosest, *result);
  return result;
}

void add_cooled(const StatesContext& work, const ClosedStates& closed)
{
  if (work.progress)
    work.progress("closed, cooled again", 0.93);
  std::vector<const analysis::ClosedDoorResult*> after;
  for (const auto& earlier : work.run.closed)
    after.push_back(&earlier);
  work.run.closed.push_back(
      solve_closed_state(work.door_case, *closed.cold, {heat::ThermalCase::cooled}, after));
}

// What was found, into the check, and the door cooled again after all of it.
void put_in_order(const StatesContext& work, ThermalStatesRun& states)
{
  const auto add_closed = [&](ThermalStateResult& result) {
    work.run.closed.push_back(std::move(*result.closed));
    states.closed->hot.push_back(std::move(result.closed_trial));
  };
  work.run.curve = states.load_cases.curve;
  for (std::size_t i = 0; i < states.results.size(); ++i) {
    work.run.open_thermal.push_back(std::move(states.results[i].open));
    work.run.fields.push_back(states.load_cases.states[i].temperature);
    if (states.closed != nullptr)
      add_closed(states.results[i]);
  }
  if (states.loosest)
    add_closed(*states.loosest);
  if (states.closed != nullptr)
    add_cooled(work, *states.closed);
}

runtime::Task thermal_task(const StatesContext& work, ThermalStatesRun& states, std::size_t i)
{
  const double each = 0.5 / static_cast<double>(states.load_cases.states.size());
  const double done = 0.4 + each * static_cast<double>(i);
  const std::string label =
      system::state_label({system::DoorPosition::open, states.load_cases.states[i].state});
  return {"warm state " + std::to_string(i), {}, [&work, &states, i, each, done, label] {
            const Progress report = [&](const std::string& stage, double share) {
              if (work.progress)
                work.progress(label + ": " + stage, done + each * share);
            };
            states.results[i] =
                solve_thermal_state(work, states.load_cases.states[i], states.closed, report);
          }};
}

// The temperatures on the coarser mesh, and the states that are solved with them.
runtime::Task coarse_heat_task(const StatesContext& work, ThermalStatesRun& states)
{
  return {"heat on the level before", {}, [&work, &states] {
            verdict::CoarseSolution& coarse = work.coarse;
            coarse.heat = firing::cached_heat_of(work.door_case.door, coarse.mesh.door,
                                                 coarse.level, coarse.cache->thermal);
            states.coarse = verdict::coarse_thermal_states(states.load_cases.states, coarse);
          }};
}

runtime::Task coarse_state_task(const StatesContext& work, ThermalStatesRun& states, std::size_t i)
{
  return {"state " + std::to_string(i) + " on the level before",
          {"heat on the level before"},
          [&work, &states, i] {
            verdict::coarse_quantities(work.door_case, work.coarse, states.coarse[i]);
          }};
}

} // namespace

std::vector<runtime::Task> thermal_tasks(const StatesContext& work, ThermalStatesRun& states)
{
  const std::size_t count = states.load_cases.states.size();
  const bool two_levels = work.coarse.level.panel > 0;
  states.results.resize(count);
  std::vector<runtime::Task> tasks;
  std::vector<std::string> all;
  for (std::size_t i = 0; i < count; ++i) {
    tasks.push_back(thermal_task(work, states, i));
    all.push_back(tasks.back().name);
    // Second of all, so that two panels are not assembled at once.
    if (i == 0 && two_levels)
      tasks.push_back(coarse_heat_task(work, states));
  }
  if (states.closed != nullptr) {
    tasks.push_back({"loosest instant", {}, [&work, &states] {
                       states.loosest = close_loosest(work, states.load_cases, *states.closed);
                     }});
    all.push_back(tasks.back().name);
  }
  tasks.push_back(
      {"in the order of the check", all, [&work, &states] { put_in_order(work, states); }});
  for (std::size_t i = 0; two_levels && i < verdict::replayed_states(count).size(); ++i)
    tasks.push_back(coarse_state_task(work, states, i));
  return tasks;
}

} // namespace hangtrue::check
