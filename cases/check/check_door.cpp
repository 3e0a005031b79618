#include "cases/check/check_door.hpp"

#include "cases/check/check_advice.hpp"
#include "cases/check/open_levels.hpp"
#include "cases/check/thermal_states.hpp"
#include "cases/runtime/schedule.hpp"
#include "cases/verdict/check_result.hpp"
#include "cases/verdict/checks.hpp"
#include "cases/verdict/closed_quantities.hpp"
#include "cases/verdict/discretization_error.hpp"
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

namespace hangtrue
{

namespace
{

bool has_fire(const Door& door)
{
  return !door.fire.schedule.empty() || door.fire.measured.given;
}

// The quantities of all states in the order of the checks: what stands open, then the same closed.
std::vector<QuantityOfInterest> in_order(const StateQuantities& states,
                                         const std::optional<QuantityOfInterest>& worn)
{
  std::vector<QuantityOfInterest> all;
  const auto add = [&](const std::vector<std::vector<QuantityOfInterest>>& of, std::size_t s) {
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
void evaluate(const DoorCase& door_case, const LevelBefore& before, const AnswersBefore& answered,
              CheckRun& run)
{
  StateQuantities states;
  states.open.push_back(quantities_of(door_case, run.deflection));
  for (const auto& warm : run.warm)
    states.open.push_back(quantities_of(door_case, warm));
  for (const auto& closed : run.closed)
    states.closed.push_back(quantities_of(door_case, closed));
  const LevelAnswer& last = run.levels.back();
  if (before.levels.whole > 0) {
    run.compared_with = before.levels;
    estimate_errors(door_case, last.levels, before, answered, states);
  } else {
    estimate_errors(last.drop_error, states);
  }
  std::optional<QuantityOfInterest> worn;
  if (!run.wear.years.empty())
    worn = drop_after_years(door_case, run.deflection, run.wear, last.drop_error);
  run.quantities = in_order(states, worn);
  run.checks = evaluate_checks(door_case, run.quantities);
}

// The warm-up on one mesh, by its number.
struct WarmUpOf {
  int round = 0;
  std::shared_ptr<KeptHeat> heat;
  std::exception_ptr error; // of a mesh that may turn out not to be the last
};

// All of one check while it is at work.
struct CheckWork {
  const DoorCase& door_case;
  const Progress& progress; // of the thread that asked for the check
  CheckRun run;
  OpenLevels levels;
  WarmUpOf warm_up;
  std::optional<Closed> closed;
  AnswersBefore before;
  WarmStates warm;

  CheckWork(const DoorCase& c, const Progress& tell, AnalysisCache* shared, const MemoryCare& care)
      : door_case(c), progress(tell), levels(c, tell, shared, care, run)
  {
  }
  [[nodiscard]] StatesWork states()
  {
    return {door_case, levels.before(), progress, levels.cache(), run};
  }
  [[nodiscard]] bool two_levels() { return levels.before().levels.whole > 0; }
  void tell(const std::string& stage, double done) const
  {
    if (progress)
      progress(stage, done);
  }
};

void find_wear(CheckWork& work)
{
  const DoorCase& c = work.door_case;
  if (c.use.swings_per_day > 0.0)
    work.run.wear = wear_out(c.door, work.run.mesh, c.use, work.run.deflection, work.levels.cache(),
                             work.progress);
}

void close_cold(CheckWork& work)
{
  const Door& door = work.door_case.door;
  if (!can_shut(door))
    return;
  work.tell("closed cold", 0.0);
  AnalysisCache& cache = work.levels.cache();
  Closed& closed = work.closed.emplace();
  closed.shut = shut_mesh(door, work.run.levels.back().levels, cache.meshes);
  closed.places = latch_places(door, possible_changes(work.door_case));
  closed.cold = std::make_unique<ShutDoor>(door, closed.shut->mesh, nullptr, closed.places, cache);
  work.run.closed.push_back(close_in(work.door_case, *closed.cold, {}, {}));
  closed.touches = work.levels.before().shut_touches = work.run.closed.back().touches;
}

// No more cold states come for this door after it.
void close_cold_before(CheckWork& work)
{
  LevelBefore& before = work.levels.before();
  if (work.two_levels()) {
    if (can_shut(work.door_case.door))
      before.shut = shut_mesh(work.door_case.door, before.levels, before.parts->meshes);
    work.before.closed_cold = closed_cold_before(work.door_case, before);
    before.parts->release_factors();
    work.levels.cache().release_systems();
  }
  if (has_fire(work.door_case.door))
    work.tell("warm-up", 0.2);
}

// Begun on the mesh that most doors are done at, while the cold door is still being solved; an
// error counts when that mesh is the last.
void warm_up_ahead(CheckWork& work)
{
  try {
    warming_of(*work.warm_up.heat);
  } catch (...) {
    work.warm_up.error = std::current_exception();
  }
}

void warm_up(CheckWork& work)
{
  WarmUpOf& of = work.warm_up;
  if (of.round != work.levels.round())
    of = {work.levels.round(),
          heat_of(work.door_case.door, work.run.mesh.door, work.run.levels.back().levels,
                  work.levels.cache().heats),
          nullptr};
  if (of.error)
    std::rethrow_exception(of.error);
  warming_of(*of.heat);
}

void choose(CheckWork& work)
{
  const Door& door = work.door_case.door;
  AnalysisCache& cache = work.levels.cache();
  work.warm.firing =
      choose_states(door, work.run.mesh.door, cache.take_warming(*work.warm_up.heat),
                    free_moves(door, work.run.mesh, bow_forces(door, work.run.mesh.door),
                               cache.factors, cache.systems));
  work.warm.closed = work.closed ? &*work.closed : nullptr;
}

// What comes before the states of the fire are known. The warm-up goes beside the cold door where
// there are threads for it.
std::vector<Task> cold_tasks(CheckWork& work, bool ahead)
{
  std::vector<Task> tasks{{"open cold", {}, [&] { work.levels.solve(); }}};
  if (ahead)
    tasks.push_back({"warm-up ahead", {}, [&] { warm_up_ahead(work); }});
  tasks.push_back({"wear", {"open cold"}, [&] { find_wear(work); }});
  tasks.push_back({"closed cold", {"wear"}, [&] { close_cold(work); }});
  tasks.push_back(
      {"closed cold on the level before", {"closed cold"}, [&] { close_cold_before(work); }});
  if (!has_fire(work.door_case.door))
    return tasks;
  std::vector<std::string> first{"open cold"};
  if (ahead)
    first.emplace_back("warm-up ahead");
  tasks.push_back({"warm-up", first, [&] { warm_up(work); }});
  tasks.push_back({"states of the fire", {"closed cold on the level before", "warm-up"}, [&] {
                     choose(work);
                   }});
  return tasks;
}

// All states of the door on the mesh that the open cold one is done at; on the level before as
// well, where there is one, at the same time.
void answer_states(CheckWork& work, int threads, bool first)
{
  // They stand on the caches of the last mesh.
  work.warm = {};
  work.closed.reset();
  work.before = {};
  run_tasks(cold_tasks(work, first && threads > 1 && work.warm_up.heat != nullptr), threads);
  if (has_fire(work.door_case.door)) {
    const StatesWork states = work.states();
    run_tasks(warm_tasks(states, work.warm), threads);
    work.before.states = std::move(work.warm.before);
    if (work.closed)
      work.closed->warm = std::move(work.warm.firing.states);
  }
  if (work.two_levels())
    work.tell("the same on the coarser mesh", 0.95);
  evaluate(work.door_case, work.levels.before(), work.before, work.run);
}

} // namespace

CheckRun check_door(const DoorCase& door_case, const Progress& progress, AnalysisCache* kept,
                    const MemoryCare& care)
{
  const Progress here = from_this_thread(progress);
  CheckWork work(door_case, here, kept, care);
  const int threads = std::min(work.levels.cache().policy().threads,
                               static_cast<int>(std::thread::hardware_concurrency()));
  if (has_fire(door_case.door))
    work.warm_up = {work.levels.likely_last(),
                    heat_of(door_case.door, work.levels.likely_last_mesh().mesh.door,
                            work.levels.likely_last_mesh().levels, work.levels.cache().heats),
                    nullptr};
  bool first = true;
  bool undecided = false;
  do {
    answer_states(work, threads, first);
    first = false;
    undecided = std::any_of(work.run.checks.begin(), work.run.checks.end(), [&](const auto& c) {
      return verdict_undecided(c, door_case.accuracy.tolerance);
    });
  } while (work.levels.refine(undecided));
  if (kept == nullptr) // of many doors the table is asked for
    add_advice(door_case, work.closed ? &*work.closed : nullptr, threads, here, work.run);
  return std::move(work.run);
}

} // namespace hangtrue
