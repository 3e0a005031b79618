// SPDX-License-Identifier: GPL-3.0-or-later
#include "cases/check/check_remedies.hpp"

#include "cases/runtime/schedule.hpp"
#include "cases/verdict/check_result.hpp"
#include "cases/verdict/checks.hpp"
#include "cases/verdict/end_float_quantities.hpp"
#include "cases/verdict/end_float_remedy.hpp"
#include "cases/verdict/remedies.hpp"
#include "solver/analysis/closed_result.hpp"

#include <algorithm>
#include <cstddef>
#include <optional>
#include <string>
#include <utility>
#include <vector>

namespace hangtrue::check
{

namespace
{

// Every change tried in every closed state, the cooled one after the others.
void try_closed(const input::DoorCase& door_case, ClosedStates& closed, int threads,
                const Progress& progress, const CheckRun& run,
                std::vector<verdict::Remedy>& changes)
{
  analysis::ClosedDoorTrial cold(std::move(closed.cold)); // of which the states ask no more
  const std::size_t others = closed.hot.size() + 1; // than the cooled one, which depends on them
  std::vector<std::vector<analysis::ClosedDoorResult>> tried(others);
  std::vector<runtime::Task> tasks;
  for (std::size_t s = 0; s < others; ++s)
    tasks.push_back({"changes in closed state " + std::to_string(s), {}, [&, s] {
                       tried[s] = verdict::try_remedies(s == 0 ? cold : *closed.hot[s - 1],
                                                        run.closed[s].state, changes);
                     }});
  if (progress)
    progress("what would change it", 0.0);
  runtime::run_tasks(tasks, threads);
  for (auto& state : tried)
    verdict::record_trial(door_case, std::move(state), changes);
  if (progress)
    progress("what would change it", 0.6);
  if (run.closed.size() > others)
    verdict::record_trial(door_case, verdict::try_remedies(cold, run.closed[others].state, changes),
                          changes);
}

enum class Among { all_closed_states, hot_closed_states };

// A closed state fails a check other than those of end float; the hot ones are between the cold and
// the cooled one.
bool closed_fails(const CheckRun& run, Among among)
{
  return std::any_of(run.checks.begin(), run.checks.end(), [&](const verdict::CheckResult& check) {
    const system::StateId& state = check.id.state;
    if (check.verdict != verdict::Verdict::fails ||
        state.position != system::DoorPosition::closed ||
        verdict::is_of_end_float(check.id.quantity))
      return false;
    const bool hot = !(state == run.closed.front().state) && !(state == run.closed.back().state);
    return hot || among == Among::all_closed_states;
  });
}

} // namespace

void add_remedies(const input::DoorCase& door_case, ClosedStates* closed, int threads,
                  const Progress& progress, CheckRun& run)
{
  verdict::EndFloatStates states;
  states.open.push_back(&run.open_cold);
  for (const auto& d : run.open_thermal)
    states.open.push_back(&d);
  for (const auto& d : run.closed)
    states.closed.push_back(&d);
  const std::optional<input::DoorCase> freed =
      verdict::with_free_hinges(door_case, states, run.checks);
  const bool seals = closed == nullptr || !closed_fails(run, Among::all_closed_states);
  if (!freed && seals)
    return;
  const input::DoorCase& base = freed ? *freed : door_case;
  std::vector<verdict::Remedy> changes;
  if (freed)
    changes.push_back(verdict::end_float_remedy(door_case, *freed));
  if (!seals)
    for (auto& change : verdict::possible_remedies(base))
      changes.push_back(std::move(change));
  if (closed != nullptr)
    try_closed(base, *closed, threads, progress, run, changes);
  if (freed) {
    run.remedies.push_back(verdict::end_float_remedy_text(door_case, *freed, states.open,
                                                          changes.front().states, run.checks));
    const bool enough = changes.front().verdict != verdict::Verdict::fails;
    changes.erase(changes.begin());
    if (enough)
      changes.clear();
  }
  if (changes.empty())
    return;
  if (closed_fails(run, Among::hot_closed_states))
    for (auto& change : verdict::panel_remedies(base, progress))
      changes.push_back(std::move(change));
  for (const auto& words : verdict::remedy_texts(changes))
    run.remedies.push_back(freed ? "besides, " + words : words);
}

} // namespace hangtrue::check
