#include "cases/check/check_door.hpp"

#include "cases/check/refinement_strategy.hpp"
#include "cases/check/thermal_states.hpp"
#include "cases/runtime/blas_setup.hpp"
#include "cases/runtime/task_queue.hpp"
#include "cases/verdict/check_result.hpp"
#include "cases/verdict/checks.hpp"
#include "cases/verdict/closed_quantities.hpp"
#include "cases/verdict/discretization_error.hpp"
#include "cases/verdict/end_float_quantities.hpp"
#include "cases/verdict/end_float_remedy.hpp"
#include "cases/verdict/quantities_of_interest.hpp"
#include "cases/verdict/remedies.hpp"
#include "meshing/quality/mesh_cache.hpp"
#include "solver/analysis/closed_result.hpp"
#include "solver/firing/thermal_cache.hpp"
#include "solver/qoi/goal_functionals.hpp"
#include "solver/system/door_system.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <future>
#include <memory>
#include <optional>
#include <thread>
#include <utility>

namespace hangtrue
{

namespace
{

// Share of the whole that levels up to and with this one take: each costs about twice the last.
double share_up_to(int level, int most)
{
  return (std::exp2(level) - 1.0) / (std::exp2(most) - 1.0);
}

bool has_fire(const Door& door)
{
  return !door.fire.schedule.empty() || door.fire.measured.given;
}

// The temperatures of one mesh, by its number, begun while the cold door is still being solved.
struct FiringAhead {
  int round = 0;
  std::shared_ptr<KeptHeat> heat;
  std::future<void> warmed;
};

FiringAhead fire_ahead(std::shared_ptr<KeptHeat> heat, int round, bool alone)
{
  return {round, heat, aside(alone, [heat] { warming_of(*heat); })};
}

// Found again by the next door, or given away where there is none.
Warming warming_from(KeptHeat& heat, bool last)
{
  if (!last)
    return *heat.warming;
  Warming taken = std::move(*heat.warming);
  heat.warming.reset();
  return taken;
}

// Every change tried in every closed state, the cooled one after the others.
void try_closed(const DoorCase& door_case, Closed& closed, bool alone, const Progress& progress,
                const CheckRun& run, std::vector<Change>& changes)
{
  TrialDoor cold(std::move(closed.cold));           // of which the states ask no more
  const std::size_t others = closed.hot.size() + 1; // than the cooled one, which hangs on them
  std::vector<std::future<std::vector<ClosedDoor>>> tried;
  SharedWork work;
  for (std::size_t s = 0; s < others; ++s)
    tried.push_back(put_task<std::vector<ClosedDoor>>(work, [&, s] {
      return try_changes(s == 0 ? cold : *closed.hot[s - 1], run.closed[s].state, false, changes);
    }));
  if (progress)
    progress("what would change it", 0.0);
  const auto side = aside(alone, [&work] { do_what_is_there(work); });
  do_what_is_there(work);
  side.wait();
  for (auto& state : tried)
    add_tried(door_case, state.get(), changes);
  if (progress)
    progress("what would change it", 0.6);
  if (run.closed.size() > others)
    add_tried(door_case, try_changes(cold, run.closed[others].state, true, changes), changes);
}

// A closed state fails a check, other than those of end float where `but_float`; `hot` counts
// states between the cold and the cooled one alone.
bool closed_fails(const CheckRun& run, bool but_float, bool hot)
{
  return std::any_of(run.checks.begin(), run.checks.end(), [&](const CheckResult& check) {
    const StateId& state = check.id.state;
    return check.verdict == Verdict::fails && state.position == Standing::shut &&
           !(but_float && is_of_end_float(check.id.quantity)) &&
           !(hot && (state == run.closed.front().state || state == run.closed.back().state));
  });
}

// Only a door that fails is worth a second round through all its states, with every change. Where
// end float is short every other change is tried with enough of it.
void add_advice(const DoorCase& door_case, Closed* closed, bool alone, const Progress& progress,
                CheckRun& run)
{
  FloatStates states;
  states.open.push_back(&run.deflection);
  for (const auto& d : run.warm)
    states.open.push_back(&d);
  for (const auto& d : run.closed)
    states.closed.push_back(&d);
  const std::optional<DoorCase> freed = freed_case(door_case, states, run.checks);
  const bool seals = closed == nullptr || !closed_fails(run, true, false);
  if (!freed && seals)
    return;
  const DoorCase& base = freed ? *freed : door_case;
  std::vector<Change> changes;
  if (freed)
    changes.push_back(float_change(door_case, *freed));
  if (!seals)
    for (auto& change : possible_changes(base))
      changes.push_back(std::move(change));
  if (closed != nullptr)
    try_closed(base, *closed, alone, progress, run, changes);
  if (freed) {
    run.advice.push_back(
        float_advice(door_case, *freed, states.open, changes.front().states, run.checks));
    const bool enough = changes.front().verdict != Verdict::fails;
    changes.erase(changes.begin());
    if (enough)
      changes.clear();
  }
  if (changes.empty())
    return;
  if (closed_fails(run, true, true))
    for (auto& change : panel_changes(base, progress))
      changes.push_back(std::move(change));
  for (const auto& words : advice(changes))
    run.advice.push_back(freed ? "besides, " + words : words);
}

using Meshes = std::vector<std::shared_ptr<const KeptMesh>>;

// The meshes that are worked on in any case, weighed before the work begins.
Meshes first_meshes(const Door& door, int most, AnalysisCache& parts, AnalysisCache* kept,
                    const MemoryCare& care)
{
  Meshes meshes;
  MemoryNeed need;
  for (int level = 1; level <= std::min(2, most); ++level) {
    meshes.push_back(inspected_mesh(door, {level, level}, parts.meshes));
    need = memory_need(door, meshes.back()->mesh, level);
    keep_within(need, care, kept);
  }
  take_dense_space();
  if (care.tell)
    care.tell(memory_words(need));
  return meshes;
}

// What the drop may miss: by its dual, or by the change from the level before. A single level
// tells nothing about the error of all else, so nothing is taken for sure on it.
double drop_error(const Deflection& open, const std::optional<double>& change)
{
  if (!change)
    return std::abs(open.drop);
  const ContributionSplit* drop = find_split(open.splits, Quantity::drop);
  return drop != nullptr && drop->missing ? error_by_dual(*drop->missing, open.drop) : *change;
}

// The open cold door on one mesh. `foreseen` is where it touched on the one before.
void solve_open(const DoorCase& door_case, const Levels& levels, const KeptMesh& mesh,
                const std::vector<Touch>& foreseen, const Progress& part, AnalysisCache& parts,
                CheckRun& run)
{
  run.mesh = mesh.mesh;
  run.quality = *mesh.inspected;
  const bool last = levels.whole > 1 || door_case.accuracy.finest == 1;
  run.deflection = solve_open_door({.door = door_case.door,
                                    .mesh = run.mesh,
                                    .progress = part,
                                    .cache = &parts,
                                    .detail = last ? OpenDetail::budget : OpenDetail::parts,
                                    .warm_start = foreseen});
  LevelAnswer answer{levels, run.deflection.unknowns, run.deflection.drop};
  if (!run.levels.empty())
    answer.change = std::abs(answer.drop - run.levels.back().drop);
  answer.drop_error = drop_error(run.deflection, answer.change);
  run.levels.push_back(answer);
}

std::unique_ptr<AnalysisCache> of_one_door()
{
  return std::make_unique<AnalysisCache>(CachePolicy{.reuse_across_doors = false, .threads = 2});
}

// Where what is cached goes: with the door, level by level, or to who brings the next one.
struct Caches {
  std::unique_ptr<AnalysisCache> own; // of the level at hand
  std::unique_ptr<AnalysisCache> own_before;
  AnalysisCache* shared = nullptr; // of all doors, in place of both

  AnalysisCache& now() const { return shared != nullptr ? *shared : *own; }
  AnalysisCache& before() const { return shared != nullptr ? *shared : *own_before; }
};

// The last mesh becomes the one before, unless the next refines the hinges alone: a change between
// two that cut the rest alike would tell nothing about it. What was judged is forgotten.
void step_back(const Levels& next, CheckRun& run, Caches& caches, LevelBefore& before)
{
  const Levels& last = run.levels.back().levels;
  std::unique_ptr<AnalysisCache> of_last = std::exchange(caches.own, of_one_door());
  if (coarser(last, next)) {
    before.levels = last;
    before.mesh = std::move(run.mesh);
    before.open = std::move(run.deflection);
    caches.own_before = std::move(of_last);
    before.parts = &caches.before();
  }
  run.checks.clear();
  run.warm.clear();
  run.closed.clear();
  run.curve.clear();
  run.shut_way.clear();
  run.fields.clear();
  run.quantities.clear();
  run.wear = {};
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

// Quantities of all states, then their errors, then the checks made of both.
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

// All states of the door on the level that the open cold one was solved on; on the level before as
// well, where there is one, at the same time.
std::optional<Closed> answer_states(const StatesWork& work, FiringAhead& ahead)
{
  const auto tell = [&](const std::string& stage, double done) {
    if (work.progress)
      work.progress(stage, done);
  };
  CheckRun& run = work.run;
  const Door& door = work.door_case.door;
  if (work.door_case.use.swings_per_day > 0.0)
    run.wear =
        wear_out(door, run.mesh, work.door_case.use, run.deflection, work.parts, work.progress);
  std::optional<Closed> closed;
  if (can_shut(door)) {
    tell("closed cold", 0.0);
    closed.emplace();
    closed->shut = shut_mesh(door, run.levels.back().levels, work.parts.meshes);
    closed->places = latch_places(door, possible_changes(work.door_case));
    closed->cold =
        std::make_unique<ShutDoor>(door, closed->shut->mesh, nullptr, closed->places, work.parts);
    run.closed.push_back(close_in(work.door_case, *closed->cold, {}, {}));
    closed->touches = work.before.shut_touches = run.closed.back().touches;
  }
  AnswersBefore answered;
  if (work.before.levels.whole > 0) { // the warm-up may still be on its way
    if (can_shut(door))
      work.before.shut = shut_mesh(door, work.before.levels, work.before.parts->meshes);
    answered.closed_cold = closed_cold_before(work.door_case, work.before);
    work.before.parts->release_factors(); // nobody hangs this door cold again
    work.parts.release_systems();
  }
  if (has_fire(door)) {
    tell("warm-up", 0.2);
    if (work.before.levels.whole > 0)
      work.before.heat =
          heat_of(door, work.before.mesh.door, work.before.levels, work.before.parts->heats);
    ahead.warmed.get();
    Firing firing = choose_states(
        door, run.mesh.door, warming_from(*ahead.heat, !work.parts.policy().reuse_across_doors),
        free_moves(door, run.mesh, bow_forces(door, run.mesh.door), work.parts.factors,
                   work.parts.systems));
    answered.states = add_warm_states(work, std::move(firing), closed ? &*closed : nullptr);
  }
  if (work.before.levels.whole > 0)
    tell("the same on the coarser mesh", 0.95);
  evaluate(work.door_case, work.before, answered, run);
  return closed;
}

} // namespace

CheckRun check_door(const DoorCase& door_case, const Progress& progress, AnalysisCache* kept,
                    const MemoryCare& care)
{
  Caches caches{of_one_door(), of_one_door(), kept};
  LevelBefore before;
  before.parts = &caches.before();
  const double wanted = door_case.accuracy.tolerance * door_case.limits.drop.value;
  const int most = door_case.accuracy.finest;
  std::optional<Closed> closed;
  CheckRun run;
  if (progress)
    progress("level 1: mesh", 0.0);
  Meshes meshes = first_meshes(door_case.door, most, caches.now(), kept, care);
  const bool alone = caches.now().policy().threads > 1 && std::thread::hardware_concurrency() > 1;
  FiringAhead ahead; // of the level that most doors are done at
  if (has_fire(door_case.door))
    ahead = fire_ahead(heat_of(door_case.door, meshes.back()->mesh.door, meshes.back()->levels,
                               caches.now().heats),
                       static_cast<int>(meshes.size()), alone);
  Levels levels;
  std::vector<Touch> foreseen;
  for (int round = 1;; ++round) {                          // the first two are levels 1 and 2
    const int likely = std::max(round, std::min(2, most)); // most doors are done at the second
    const double from = round > 1 ? share_up_to(round - 1, likely) : 0.0;
    const double to = share_up_to(round, likely);
    const Progress part = [&](const std::string& stage, double done) {
      if (progress)
        progress(fmt::format("level {}: {}", level_words(levels), stage),
                 from + done * (to - from));
    };
    closed.reset(); // it stands on the parts of the last mesh
    if (round > 1)
      step_back(levels, run, caches, before);
    part("mesh", 0.0);
    if (round > static_cast<int>(meshes.size())) {
      meshes.push_back(inspected_mesh(door_case.door, levels, caches.now().meshes));
      keep_within(memory_need(door_case.door, meshes.back()->mesh, levels.in_hinges), care, kept);
    }
    solve_open(door_case, levels, *meshes[round - 1], foreseen, part, caches.now(), run);
    foreseen = run.deflection.touches;
    run.reached = run.levels.back().drop_error <= wanted;
    const Levels next = next_levels(levels, most, run.deflection, wanted);
    // One mesh alone tells no errors.
    if ((!run.reached || round == 1) && finer(next, levels)) {
      levels = next;
      continue;
    }
    if (has_fire(door_case.door) && ahead.round != round)
      ahead = fire_ahead(heat_of(door_case.door, run.mesh.door, levels, caches.now().heats), round,
                         alone);
    closed = answer_states({door_case, before, alone, progress, caches.now(), run}, ahead);
    const bool hangs = std::any_of(run.checks.begin(), run.checks.end(), [&](const auto& check) {
      return verdict_undecided(check, door_case.accuracy.tolerance);
    });
    run.reached = run.reached && !hangs;
    const Levels whole = next_whole(levels, most);
    if (!hangs || !finer(whole, levels))
      break;
    levels = whole;
  }
  if (kept == nullptr) // of many doors the table is asked for
    add_advice(door_case, closed ? &*closed : nullptr, alone, progress, run);
  return run;
}

} // namespace hangtrue
