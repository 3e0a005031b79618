#include "cases/check/thermal_states.hpp"

#include "cases/runtime/heap_trim.hpp"
#include "cases/runtime/task_queue.hpp"

#include <algorithm>
#include <cmath>
#include <future>
#include <optional>
#include <thread>
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

// A warm state open and, where it can be shut, closed.
struct WarmAnswer {
  Deflection open;
  std::optional<ClosedDoor> closed;
  std::unique_ptr<TrialDoor> shut;
};

void close_warm(const StatesWork& work, const Closed& closed, const WarmDoor& warm,
                WarmAnswer& answer)
{
  auto shut = std::make_unique<ShutDoor>(work.door_case.door, closed.shut->mesh, &warm,
                                         closed.places, work.parts, closed.touches);
  answer.closed = close_in(work.door_case, *shut, warm.state, {});
  answer.shut = std::make_unique<TrialDoor>(std::move(shut));
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

// The warm states and the level before, in tasks that either of two threads takes.
struct WarmTasks {
  SharedWork work;
  std::vector<std::future<WarmAnswer>> answers;
  std::vector<StateBefore> before;
  std::vector<std::future<void>> of_before; // good when the work is done
  std::future<void> side;                   // waits when it goes: the tasks live as long as this
};

// The level before: its heat, then each warm state.
void begin_before(const StatesWork& work, const Firing& firing, WarmTasks& made)
{
  try {
    made.before = heat_before(firing.states, work.before);
  } catch (...) {
    complete(made.work); // or the other thread would wait for ever
    throw;
  }
  for (auto& state : made.before)
    made.of_before.push_back(put_task<void>(
        made.work, [&work, &state] { answer_before(work.door_case, work.before, state); }));
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

// All arguments must outlive the tasks.
void begin_tasks(const StatesWork& work, const Firing& firing, const Closed* closed,
                 WarmTasks& made)
{
  const auto here = std::this_thread::get_id();
  const double each = 0.5 / static_cast<double>(std::max<std::size_t>(1, firing.states.size()));
  for (std::size_t i = 0; i < firing.states.size(); ++i) {
    const WarmDoor& state = firing.states[i];
    const double done = 0.4 + each * static_cast<double>(i);
    const Progress tell = [here, done, each, &work, &state](const std::string& stage,
                                                            double share) {
      if (work.progress && std::this_thread::get_id() == here)
        work.progress(state_label({Standing::open, state.state}) + ": " + stage,
                      done + each * share);
    };
    made.answers.push_back(put_task<WarmAnswer>(made.work, [&work, &state, closed, tell] {
      return answer_warm(work, state, closed, tell);
    }));
  }
  // The heat of the level before comes first, so that two panels are not assembled at once.
  made.side = aside(work.alone, [&work, &firing, &made] {
    if (work.before.levels.whole > 0)
      begin_before(work, firing, made);
    complete(made.work);
    do_all(made.work);
  });
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

void add_open(const StatesWork& work, Deflection open, const std::vector<double>& at)
{
  work.run.warm.push_back(std::move(open));
  work.run.fields.push_back(at);
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

} // namespace

std::vector<StateBefore> add_warm_states(const StatesWork& work, Firing firing, Closed* closed)
{
  work.run.curve = firing.curve;
  WarmTasks warm;
  begin_tasks(work, firing, closed, warm);
  do_what_is_there(warm.work);
  std::optional<WarmAnswer> extra;
  if (closed != nullptr)
    extra = close_loosest(work, firing, *closed);
  auto keep = [&](WarmAnswer& answer) {
    work.run.closed.push_back(std::move(*answer.closed));
    closed->hot.push_back(std::move(answer.shut));
  };
  for (std::size_t i = 0; i < firing.states.size(); ++i) {
    WarmAnswer answer = warm.answers[i].get();
    add_open(work, std::move(answer.open), firing.states[i].at);
    if (closed != nullptr)
      keep(answer);
  }
  if (extra)
    keep(*extra);
  if (closed != nullptr)
    add_cooled(work, *closed);
  if (work.alone)
    do_all(warm.work);
  warm.side.get();
  for (auto& done : warm.of_before)
    done.get();
  if (closed != nullptr)
    closed->warm = std::move(firing.states);
  return std::move(warm.before);
}

} // namespace hangtrue
