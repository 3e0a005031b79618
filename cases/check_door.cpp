#include "cases/check_door.hpp"

#include "cases/advice.hpp"
#include "cases/closed_findings.hpp"
#include "cases/dense_kernels.hpp"
#include "cases/mesh_error.hpp"
#include "cases/side_by_side.hpp"
#include "meshing/loft.hpp"

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

std::string closed_name(const std::string& open_name)
{
  const std::string word = "open";
  return open_name.rfind(word, 0) == 0 ? "closed" + open_name.substr(word.size())
                                       : "closed, " + open_name;
}

// Work that another thread may take: only where no factored bodies are handed in, which the threads
// would share. The answers are the same either way.
template <typename Work>
auto aside(bool alone, const Work& work)
{
  return std::async(alone ? std::launch::async : std::launch::deferred, [work] {
    use_one_dense_thread();
    return work();
  });
}

template <typename Result, typename Task>
std::future<Result> put_task(SharedWork& work, const Task& task)
{
  const auto packed = std::make_shared<std::packaged_task<Result()>>(task);
  put(work, [packed] { (*packed)(); });
  return packed->get_future();
}

bool has_fire(const Door& door)
{
  return !door.fire.schedule.empty() || door.fire.measured.given;
}

// The temperatures of one mesh level, begun while the cold door is still being solved.
struct FiringAhead {
  int level = 0;
  std::future<Firing> firing;
};

FiringAhead fire_ahead(const Door& door, const BodyMesh& body, int level, bool alone)
{
  return {level, aside(alone, [&door, body] { return fire_door(door, body, [](double) {}); })};
}

// The closed states on their way: the shut mesh, the heat of each, and the door standing shut in
// it.
struct Closed {
  std::unique_ptr<Mesh> shut;     // doors point at it
  std::vector<Latch> places;      // of latches, those of changes among them
  std::unique_ptr<ShutDoor> cold; // serves the first state, the choice of instants and the last
  std::vector<WarmDoor> warm;
  std::unique_ptr<WarmDoor> loosest;          // where none of them is
  std::vector<std::unique_ptr<ShutDoor>> hot; // in the order of the check
};

// The door closed in one state, after the others where it has cooled.
ClosedDoor close_in(const DoorCase& door_case, ShutDoor& shut, const std::string& state,
                    const std::vector<const ClosedDoor*>& after)
{
  const Closing closing = closing_of(door_case.door);
  ClosedDoor found = shut.close(closing, after);
  found.state = state;
  found.split = shut.least_squeeze(closing, found).split;
  return found;
}

void add_closed(const DoorCase& door_case, ClosedDoor found, CheckRun& run)
{
  const auto findings = judge_closed(door_case, found);
  run.findings.insert(run.findings.end(), findings.begin(), findings.end());
  run.closed.push_back(std::move(found));
}

// A warm state open and, where it can be shut, closed.
struct WarmAnswer {
  Deflection open;
  std::optional<ClosedDoor> closed;
  std::unique_ptr<ShutDoor> shut;
};

void close_warm(const DoorCase& door_case, const Closed& closed, const WarmDoor& warm, bool alone,
                FactoredBodies& parts, WarmAnswer& answer)
{
  answer.shut =
      std::make_unique<ShutDoor>(door_case.door, *closed.shut, &warm, closed.places, parts);
  answer.closed = close_in(door_case, *answer.shut, closed_name(warm.state), {});
  answer.shut->keep_checks_only(alone ? &parts : nullptr); // no other door will ask for it
}

// The instant at which the gasket presses least somewhere: among some ten of the steps after the
// door has bowed to a tenth of what it will, each closed with the stiffness of the cold door and
// kept.
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
    const double jamb = warmth_of(door, closed.shut->door, tried[i]->at).jamb;
    kept.push_back(closed.cold->glance_at(closing_of(door), tried[i]->at, jamb));
    kept.back().time = tried[i]->time;
    if (worst == nullptr || kept.back().least_load < least) {
      worst = tried[i];
      least = kept.back().least_load;
    }
  }
  return worst;
}

// Only a door that fails is worth a second round through all its states, with every change.
void add_advice(const DoorCase& door_case, const Closed& closed, bool alone,
                const Progress& progress, CheckRun& run)
{
  const bool fails = std::any_of(run.findings.begin(), run.findings.end(), [](const Finding& f) {
    return f.verdict == Verdict::fails && f.state.rfind("closed", 0) == 0;
  });
  if (!fails)
    return;
  std::vector<Change> changes = possible_changes(door_case);
  const std::size_t others = closed.hot.size() + 1; // than the cooled one, which hangs on them
  std::vector<std::future<std::vector<ClosedDoor>>> tried;
  SharedWork work;
  for (std::size_t s = 0; s < others; ++s)
    tried.push_back(put_task<std::vector<ClosedDoor>>(work, [&, s] {
      return try_changes(s == 0 ? *closed.cold : *closed.hot[s - 1], run.closed[s].state, false,
                         changes);
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
    add_tried(door_case, try_changes(*closed.cold, run.closed[others].state, true, changes),
              changes);
  const bool fails_hot = std::any_of(run.findings.begin(), run.findings.end(), [&](const auto& f) {
    return f.verdict == Verdict::fails && f.state.rfind("closed", 0) == 0 &&
           f.state != run.closed.front().state && f.state != run.closed.back().state;
  });
  if (fails_hot)
    for (auto& change : panel_changes(door_case, progress))
      changes.push_back(std::move(change));
  run.advice = advice(changes);
}

// The warm states and the level before, in tasks that either of two threads takes.
struct WarmTasks {
  SharedWork work;
  std::vector<std::future<WarmAnswer>> answers;
  AnswersBefore before;
  std::vector<std::future<void>> of_before; // good when the work is done
  std::future<void> side;                   // waits when it goes: the tasks live as long as this
};

// The level before: closed cold while its heat is on the way, then each warm state.
void begin_before(const DoorCase& door_case, const Firing& firing, const LevelBefore& before,
                  WarmTasks& made)
{
  made.of_before.push_back(put_task<void>(made.work, [&door_case, &before, &made] {
    made.before.closed_cold = closed_cold_before(door_case, before);
  }));
  try {
    made.before.states = heat_before(door_case, firing.states, before);
  } catch (...) {
    complete(made.work); // or the other thread would wait for ever
    throw;
  }
  for (auto& state : made.before.states)
    made.of_before.push_back(put_task<void>(
        made.work, [&door_case, &before, &state] { answer_before(door_case, before, state); }));
}

// `firing`, `closed` and `before` must outlive the tasks.
void begin_tasks(const DoorCase& door_case, const Firing& firing, const Closed* closed,
                 const LevelBefore& before, bool alone, const Progress& progress,
                 FactoredBodies& parts, const CheckRun& run, WarmTasks& made)
{
  const auto here = std::this_thread::get_id();
  const double each = 0.5 / static_cast<double>(std::max<std::size_t>(1, firing.states.size()));
  for (std::size_t i = 0; i < firing.states.size(); ++i) {
    const WarmDoor& state = firing.states[i];
    const double done = 0.4 + each * static_cast<double>(i);
    const Progress tell = [here, done, each, &progress, &state](const std::string& stage,
                                                                double share) {
      if (progress && std::this_thread::get_id() == here)
        progress(state.state + ": " + stage, done + each * share);
    };
    made.answers.push_back(put_task<WarmAnswer>(made.work, [&door_case, &state, closed, alone,
                                                            &parts, &run, tell] {
      WarmAnswer answer{deflect_open(door_case.door, run.mesh, tell, &state, &parts), {}, nullptr};
      if (closed != nullptr) {
        tell("closed", 0.7);
        close_warm(door_case, *closed, state, alone, parts, answer);
      }
      return answer;
    }));
  }
  made.side = aside(alone, [&door_case, &firing, &before, &made] {
    do_what_is_there(made.work);
    if (before.level > 0)
      begin_before(door_case, firing, before, made);
    complete(made.work);
    do_all(made.work);
  });
}

// The loosest instant, where no warm state stands for it, closed as well.
void add_loosest(const DoorCase& door_case, Firing& firing, Closed& closed,
                 const Progress& progress, bool alone, FactoredBodies& parts, CheckRun& run,
                 std::optional<WarmAnswer>& made)
{
  if (firing.way.empty())
    return;
  if (progress)
    progress("closed, the loosest instant", 0.9);
  const WarmInstant* worst = loosest(door_case, closed, firing, run.shut_way);
  const bool seen = std::any_of(firing.states.begin(), firing.states.end(), [&](const auto& s) {
    return worst == nullptr || std::abs(s.warmth.time - worst->time) < 0.1 * worst->time;
  });
  if (seen)
    return;
  closed.loosest = std::make_unique<WarmDoor>(
      state_at(door_case.door, run.mesh.door,
               fmt::format("open, gasket loosest at {:.0f} min", worst->time / 60.0), *worst,
               firing.states.front().warmth.energy_error));
  made.emplace();
  close_warm(door_case, closed, *closed.loosest, alone, parts, *made);
}

// The firing on the mesh of the cold door, and beside it the level before; the error of the cold
// drop stands for that of the warm ones where there is no level before to compare with.
AnswersBefore add_warm_states(const DoorCase& door_case, Firing firing, Closed* closed,
                              const LevelBefore& before, bool alone, const Progress& progress,
                              FactoredBodies& parts, CheckRun& run)
{
  run.curve = firing.curve;
  WarmTasks warm;
  begin_tasks(door_case, firing, closed, before, alone, progress, parts, run, warm);
  do_what_is_there(warm.work);
  std::optional<WarmAnswer> extra;
  if (closed != nullptr)
    add_loosest(door_case, firing, *closed, progress, alone, parts, run, extra);
  for (std::size_t i = 0; i < firing.states.size(); ++i) {
    WarmAnswer answer = warm.answers[i].get();
    answer.open.drop_error = run.deflection.drop_error;
    const auto found = judge(door_case, answer.open);
    run.findings.insert(run.findings.end(), found.begin(), found.end());
    run.warm.push_back(std::move(answer.open));
    run.fields.push_back(firing.states[i].at);
    if (closed != nullptr) {
      add_closed(door_case, std::move(*answer.closed), run);
      closed->hot.push_back(std::move(answer.shut));
    }
  }
  if (closed != nullptr) {
    if (extra) {
      add_closed(door_case, std::move(*extra->closed), run);
      closed->hot.push_back(std::move(extra->shut));
    }
    if (progress)
      progress("closed, cooled again", 0.93);
    std::vector<const ClosedDoor*> after;
    for (const auto& earlier : run.closed)
      after.push_back(&earlier);
    add_closed(door_case, close_in(door_case, *closed->cold, "closed, cooled again", after), run);
  }
  if (alone)
    do_all(warm.work);
  warm.side.get();
  for (auto& done : warm.of_before)
    done.get();
  AnswersBefore answered = std::move(warm.before);
  if (closed != nullptr)
    closed->warm = std::move(firing.states);
  return answered;
}

// The meshes that are worked on in any case, weighed before the work begins.
std::vector<Mesh> first_meshes(const Door& door, int most, FactoredBodies* kept,
                               const MemoryCare& care)
{
  std::vector<Mesh> meshes;
  MemoryNeed need;
  for (int level = 1; level <= std::min(2, most); ++level) {
    meshes.push_back(loft(door, fineness(door, level)));
    need = memory_need(door, meshes.back(), level);
    keep_within(need, care, kept);
  }
  take_dense_space();
  if (care.tell)
    care.tell(memory_words(need));
  return meshes;
}

// The open cold door on one level, its error the change from the level before. A single level
// tells nothing about its error: the whole drop is taken.
void solve_open(const DoorCase& door_case, int level, Mesh mesh, const Progress& part,
                FactoredBodies& parts, CheckRun& run)
{
  const Door& door = door_case.door;
  run.mesh = std::move(mesh);
  run.quality = inspect(run.mesh, door);
  const bool budget = level > 1 || door_case.accuracy.finest == 1;
  run.deflection = deflect_open(door, run.mesh, part, nullptr, &parts, budget);
  LevelAnswer answer{level, run.deflection.unknowns, run.deflection.drop, -1.0};
  if (!run.levels.empty())
    answer.error = std::abs(answer.drop - run.levels.back().drop);
  run.deflection.drop_error = answer.error >= 0.0 ? answer.error : std::abs(run.deflection.drop);
  run.levels.push_back(answer);
}

// The last level becomes the one before; what was judged on it is forgotten.
void step_back(CheckRun& run, FactoredBodies& own, LevelBefore& before)
{
  before.level = run.levels.back().level;
  before.mesh = std::move(run.mesh);
  before.open = std::move(run.deflection);
  if (before.parts != nullptr && !own.parts.empty())
    *before.parts = std::exchange(own, FactoredBodies{});
  run.findings.clear();
  run.warm.clear();
  run.closed.clear();
  run.curve.clear();
  run.shut_way.clear();
  run.fields.clear();
  run.answers.clear();
  run.wear = {};
}

// An error beside every answer, and the words that it turns.
void add_errors(const DoorCase& door_case, const LevelBefore& before, const AnswersBefore& answered,
                CheckRun& run)
{
  run.answers =
      answers_with_errors(door_case, {run.deflection, run.warm, run.closed}, before, answered);
  judge_with_errors(run.answers, run.findings);
  const auto put = [&](Deflection& d) {
    d.drop_error = error_of(run.answers, d.state, "drop of the latch corner");
  };
  put(run.deflection);
  for (auto& warm : run.warm)
    put(warm);
}

// All states of the door on the level that the open cold one was solved on, judged; on the level
// before as well, where there is one, at the same time.
std::optional<Closed> answer_states(const DoorCase& door_case, FiringAhead& ahead,
                                    const LevelBefore& before, bool alone, const Progress& progress,
                                    FactoredBodies& parts, CheckRun& run)
{
  const auto tell = [&](const std::string& stage, double done) {
    if (progress)
      progress(stage, done);
  };
  const Door& door = door_case.door;
  run.findings = judge(door_case, run.deflection);
  if (door_case.use.swings_per_day > 0.0) {
    run.wear = wear_out(door, run.mesh, door_case.use, run.deflection, parts, progress);
    run.findings.push_back(judge_wear(door_case, run.deflection, run.wear));
  }
  std::optional<Closed> closed;
  if (can_shut(door)) {
    tell("closed cold", 0.0);
    closed.emplace();
    closed->shut = std::make_unique<Mesh>(shut_mesh(door, run.levels.back().level));
    closed->places = latch_places(door, possible_changes(door_case));
    closed->cold = std::make_unique<ShutDoor>(door, *closed->shut, nullptr, closed->places, parts);
    add_closed(door_case, close_in(door_case, *closed->cold, "closed cold", {}), run);
  }
  Firing firing;
  if (has_fire(door)) {
    tell("warm-up", 0.2);
    firing = ahead.firing.get();
  }
  AnswersBefore answered;
  if (has_fire(door))
    answered = add_warm_states(door_case, std::move(firing), closed ? &*closed : nullptr, before,
                               alone, progress, parts, run);
  else if (before.level > 0)
    answered.closed_cold = closed_cold_before(door_case, before);
  if (before.level > 0) {
    tell("the same on the coarser mesh", 0.95);
    add_errors(door_case, before, answered, run);
  }
  return closed;
}

} // namespace

CheckRun check_door(const DoorCase& door_case, const Progress& progress, FactoredBodies* kept,
                    const MemoryCare& care)
{
  FactoredBodies own;
  FactoredBodies own_before;
  FactoredBodies& parts = kept != nullptr ? *kept : own;
  LevelBefore before;
  before.parts = kept != nullptr ? kept : &own_before;
  const double wanted = door_case.accuracy.tolerance * door_case.limits.drop.value;
  const int most = door_case.accuracy.finest;
  std::optional<Closed> closed;
  CheckRun run;
  if (progress)
    progress("level 1: mesh", 0.0);
  std::vector<Mesh> meshes = first_meshes(door_case.door, most, kept, care);
  const bool alone = kept == nullptr && std::thread::hardware_concurrency() > 1;
  FiringAhead ahead; // of the level that most doors are done at
  if (has_fire(door_case.door))
    ahead = fire_ahead(door_case.door, meshes.back().door, static_cast<int>(meshes.size()), alone);
  for (int level = 1; level <= most; ++level) {
    const int likely = std::max(level, std::min(2, most)); // most doors are done at the second
    const double from = level > 1 ? share_up_to(level - 1, likely) : 0.0;
    const double to = share_up_to(level, likely);
    const Progress part = [&](const std::string& stage, double done) {
      if (progress)
        progress(fmt::format("level {}: {}", level, stage), from + done * (to - from));
    };
    if (level > 1)
      step_back(run, own, before);
    closed.reset();
    part("mesh", 0.0);
    if (level > static_cast<int>(meshes.size())) {
      meshes.push_back(loft(door_case.door, fineness(door_case.door, level)));
      keep_within(memory_need(door_case.door, meshes.back(), level), care, kept);
    }
    solve_open(door_case, level, std::move(meshes[level - 1]), part, parts, run);
    const double error = run.levels.back().error;
    run.reached = error >= 0.0 && error <= wanted;
    if (!run.reached && level < most)
      continue;
    if (has_fire(door_case.door) && ahead.level != level)
      ahead = fire_ahead(door_case.door, run.mesh.door, level, alone);
    closed = answer_states(door_case, ahead, before, alone, progress, parts, run);
    const bool hangs = std::any_of(run.findings.begin(), run.findings.end(), [&](const auto& f) {
      return hangs_in_the_error(f, door_case.accuracy.tolerance);
    });
    run.reached = run.reached && !hangs;
    if (!hangs)
      break;
  }
  if (closed)
    add_advice(door_case, *closed, alone, progress, run);
  return run;
}

} // namespace hangtrue
