// SPDX-License-Identifier: GPL-3.0-or-later
#include "cases/check/check_door.hpp"

#include "cases/check/check_remedies.hpp"
#include "cases/check/open_refinement.hpp"
#include "cases/check/thermal_states.hpp"
#include "cases/runtime/schedule.hpp"
#include "cases/verdict/binding_error.hpp"
#include "cases/verdict/check_result.hpp"
#include "cases/verdict/checks.hpp"
#include "cases/verdict/closed_quantities.hpp"
#include "cases/verdict/discretization_error.hpp"
#include "cases/verdict/elastic_range.hpp"
#include "cases/verdict/quantities_of_interest.hpp"
#include "cases/verdict/remedies.hpp"
#include "solver/analysis/analysis_cache.hpp"
#include "solver/analysis/closed_result.hpp"
#include "solver/firing/thermal_cache.hpp"
#include "solver/system/door_system.hpp"

#include <algorithm>
#include <cstddef>
#include <exception>
#include <memory>
#include <optional>
#include <string>
#include <thread>
#include <utility>
#include <vector>

namespace hangtrue::check
{

namespace
{

bool has_fire(const door::Door& door)
{
  return !door.fire.schedule.empty() || door.fire.measured.given;
}

// The quantities of all states in the order of the checks: what stands open, then the same closed.
std::vector<verdict::QuantityOfInterest>
in_order(const verdict::StateQuantities& states,
         const std::optional<verdict::QuantityOfInterest>& worn)
{
  std::vector<verdict::QuantityOfInterest> all;
  const auto add = [&](const std::vector<std::vector<verdict::QuantityOfInterest>>& of,
                       std::size_t s) {
    if (s < of.size())
      all.insert(all.end(), of[s].begin(), of[s].end());
  };
  for (std::size_t s = 0; s < std::max(states.open.size(), states.closed.size()); ++s) {
    add(states.open, s);
    if (s == 0 && worn)
      all.push_back(*worn);
    add(states.closed, s);
  }
  return all;
}

// Quantities of all states, then their errors, then the checks of both.
void evaluate(const input::DoorCase& door_case, const verdict::CoarseSolution& coarse,
              const verdict::CoarseQois& coarse_qois, CheckRun& run)
{
  verdict::StateQuantities states;
  states.open.push_back(verdict::quantities_of(door_case, run.open_cold));
  for (const auto& warm : run.open_thermal)
    states.open.push_back(verdict::quantities_of(door_case, warm));
  for (const auto& closed : run.closed)
    states.closed.push_back(verdict::quantities_of(door_case, closed));
  const RefinementStep& last = run.steps.back();
  if (coarse.level.panel > 0) {
    run.compared_with = coarse.level;
    verdict::estimate_errors(door_case, last.level, coarse, coarse_qois, states);
  } else {
    verdict::estimate_errors(last.drop_error, states);
  }
  for (auto* position : {&states.open, &states.closed})
    for (auto& state : *position) {
      verdict::widen_where_hinges_may_bind(state);
      verdict::withdraw_errors_beyond_elastic(state);
    }
  std::optional<verdict::QuantityOfInterest> worn;
  if (!run.wear.years.empty())
    worn = verdict::drop_after_years(door_case, run.open_cold, run.wear, last.drop_error);
  run.quantities = in_order(states, worn);
  run.checks = verdict::evaluate_checks(door_case, run.quantities);
}

// The warm-up on one mesh, by its number.
struct HeatingAhead {
  int round = 0;
  std::shared_ptr<firing::CachedHeating> heat;
  std::exception_ptr error; // of a mesh that may turn out not to be the last
};

// The data of one check while it runs.
struct CheckContext {
  const input::DoorCase& door_case;
  const Progress& progress; // of the thread that runs the check
  CheckRun run;
  OpenRefinement levels;
  HeatingAhead heating;
  std::optional<ClosedStates> closed;
  verdict::CoarseQois coarse;
  ThermalStatesRun thermal;

  CheckContext(const input::DoorCase& c, const Progress& on_progress,
               analysis::AnalysisCache* shared, const runtime::MemoryPolicy& policy)
      : door_case(c), progress(on_progress), levels(c, on_progress, shared, policy, run)
  {
  }
  [[nodiscard]] StatesContext states()
  {
    return {door_case, levels.coarse(), progress, levels.cache(), run};
  }
  [[nodiscard]] bool two_levels() { return levels.coarse().level.panel > 0; }
  void report(const std::string& stage, double done) const
  {
    if (progress)
      progress(stage, done);
  }
};

void find_wear(CheckContext& work)
{
  const input::DoorCase& c = work.door_case;
  if (c.use.swings_per_day > 0.0)
    work.run.wear = analysis::integrate_wear(c.door, work.run.mesh, c.use, work.run.open_cold,
                                             work.levels.cache(), work.progress);
}

void solve_closed_cold(CheckContext& work)
{
  const door::Door& door = work.door_case.door;
  if (!door::can_close(door))
    return;
  work.report("closed cold", 0.0);
  analysis::AnalysisCache& cache = work.levels.cache();
  ClosedStates& closed = work.closed.emplace();
  closed.mesh = analysis::make_closed_mesh(door, work.run.steps.back().level, cache.meshes);
  closed.latch_positions = verdict::latch_places(door, verdict::possible_remedies(work.door_case));
  closed.cold = std::make_unique<analysis::ClosedDoorAnalysis>(door, closed.mesh->mesh, nullptr,
                                                               closed.latch_positions, cache);
  work.run.closed.push_back(solve_closed_state(work.door_case, *closed.cold, {}, {}));
  closed.active_contacts = work.levels.coarse().closed_active_contacts =
      work.run.closed.back().active_contacts;
}

// No more cold states come for this door after it.
void solve_coarse_closed_cold(CheckContext& work)
{
  verdict::CoarseSolution& coarse = work.levels.coarse();
  if (work.two_levels()) {
    if (door::can_close(work.door_case.door))
      coarse.closed_mesh =
          analysis::make_closed_mesh(work.door_case.door, coarse.level, coarse.cache->meshes);
    work.coarse.closed_cold = verdict::coarse_closed_cold(work.door_case, coarse);
    coarse.cache->release_factors();
    work.levels.cache().release_systems();
  }
  if (has_fire(work.door_case.door))
    work.report("warm-up", 0.2);
}

// Begun on the mesh that most doors are done at, while the cold door is still being solved; an
// error counts when that mesh is the last.
void heat_up_ahead(CheckContext& work)
{
  try {
    firing::cached_heating(*work.heating.heat);
  } catch (...) {
    work.heating.error = std::current_exception();
  }
}

void heat_up_on_last_mesh(CheckContext& work)
{
  HeatingAhead& of = work.heating;
  if (of.round != work.levels.round())
    of = {work.levels.round(),
          firing::cached_heat_of(work.door_case.door, work.run.mesh.door,
                                 work.run.steps.back().level, work.levels.cache().thermal),
          nullptr};
  if (of.error)
    std::rethrow_exception(of.error);
  firing::cached_heating(*of.heat);
}

void select_states(CheckContext& work)
{
  const door::Door& door = work.door_case.door;
  analysis::AnalysisCache& cache = work.levels.cache();
  work.thermal.load_cases = firing::select_thermal_states(
      door, work.run.mesh.door, cache.take_heating_run(*work.heating.heat),
      system::solve_free_body(door, work.run.mesh, qoi::bow_forces(door, work.run.mesh.door),
                              cache.factors, cache.systems));
  work.thermal.closed = work.closed ? &*work.closed : nullptr;
}

// What comes before the states of the fire are known. The warm-up goes beside the cold door where
// there are threads for it.
std::vector<runtime::Task> cold_tasks(CheckContext& work, bool ahead)
{
  std::vector<runtime::Task> tasks{{"open cold", {}, [&] { work.levels.solve(); }}};
  if (ahead)
    tasks.push_back({"warm-up ahead", {}, [&] { heat_up_ahead(work); }});
  tasks.push_back({"wear", {"open cold"}, [&] { find_wear(work); }});
  tasks.push_back({"closed cold", {"wear"}, [&] { solve_closed_cold(work); }});
  tasks.push_back({"closed cold on the level before", {"closed cold"}, [&] {
                     solve_coarse_closed_cold(work);
                   }});
  if (!has_fire(work.door_case.door))
    return tasks;
  std::vector<std::string> first{"open cold"};
  if (ahead)
    first.emplace_back("warm-up ahead");
  tasks.push_back({"warm-up", first, [&] { heat_up_on_last_mesh(work); }});
  tasks.push_back({"states of the fire", {"closed cold on the level before", "warm-up"}, [&] {
                     select_states(work);
                   }});
  return tasks;
}

// All states of the door on the last mesh of the open cold one; at the same time on the coarser
// mesh, where there is one.
void solve_states(CheckContext& work, int threads, bool first)
{
  // They stand on the caches of the last mesh.
  work.thermal = {};
  work.closed.reset();
  work.coarse = {};
  runtime::run_tasks(cold_tasks(work, first && threads > 1 && work.heating.heat != nullptr),
                     threads);
  if (has_fire(work.door_case.door)) {
    const StatesContext states = work.states();
    runtime::run_tasks(thermal_tasks(states, work.thermal), threads);
    work.coarse.states = std::move(work.thermal.coarse);
    if (work.closed)
      work.closed->thermal_states = std::move(work.thermal.load_cases.states);
  }
  if (work.two_levels())
    work.report("the same on the coarser mesh", 0.95);
  evaluate(work.door_case, work.levels.coarse(), work.coarse, work.run);
}

} // namespace

CheckRun check_door(const input::DoorCase& door_case, const Progress& progress,
                    analysis::AnalysisCache* cache, const runtime::MemoryPolicy& policy)
{
  const Progress here = runtime::from_this_thread(progress);
  CheckContext work(door_case, here, cache, policy);
  const int threads = std::min(work.levels.cache().policy().threads,
                               static_cast<int>(std::thread::hardware_concurrency()));
  if (has_fire(door_case.door))
    work.heating = {work.levels.likely_last(),
                    firing::cached_heat_of(door_case.door, work.levels.likely_last_mesh().mesh.door,
                                           work.levels.likely_last_mesh().level,
                                           work.levels.cache().thermal),
                    nullptr};
  bool first = true;
  bool undecided = false;
  do {
    solve_states(work, threads, first);
    first = false;
    undecided = std::any_of(work.run.checks.begin(), work.run.checks.end(), [&](const auto& c) {
      return verdict::verdict_undecided(c, door_case.accuracy.tolerance);
    });
  } while (work.levels.refine(undecided));
  if (cache == nullptr) // a comparison shows a table, no remedies
    add_remedies(door_case, work.closed ? &*work.closed : nullptr, threads, here, work.run);
  return std::move(work.run);
}

} // namespace hangtrue::check
