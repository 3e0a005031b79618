#include "cases/check_door.hpp"

#include "cases/advice.hpp"
#include "cases/closed_findings.hpp"
#include "cases/dense_kernels.hpp"
#include "meshing/loft.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <memory>
#include <optional>
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

// The closed states on their way: the shut mesh and the heat of each.
struct Closed {
  Mesh shut;
  std::unique_ptr<ShutDoor> cold; // serves the first state, the choice of instants and the last
  std::vector<WarmDoor> warm;
};

// One closed state with its findings.
void add_closed(const DoorCase& door_case, ShutDoor& shut, const std::string& state, bool cooled,
                CheckRun& run)
{
  std::vector<const ClosedDoor*> after;
  if (cooled)
    for (const auto& earlier : run.closed)
      after.push_back(&earlier);
  ClosedDoor found = shut.close(closing_of(door_case.door), after);
  found.state = state;
  const auto findings = judge_closed(door_case, found);
  run.findings.insert(run.findings.end(), findings.begin(), findings.end());
  run.closed.push_back(std::move(found));
}

void add_closed(const DoorCase& door_case, const Closed& closed, const WarmDoor& warm,
                FactoredBodies& parts, CheckRun& run)
{
  ShutDoor shut(door_case.door, closed.shut, &warm, door_case.door.latches, parts);
  add_closed(door_case, shut, closed_name(warm.state), false, run);
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
    const double jamb = warmth_of(door, closed.shut.door, tried[i]->at).jamb;
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
void add_advice(const DoorCase& door_case, const Closed& closed, const Progress& progress,
                FactoredBodies& parts, CheckRun& run)
{
  const bool fails = std::any_of(run.findings.begin(), run.findings.end(), [](const Finding& f) {
    return f.verdict == Verdict::fails && f.state.rfind("closed", 0) == 0;
  });
  if (!fails)
    return;
  std::vector<Change> changes = possible_changes(door_case);
  const std::vector<Latch> places = latch_places(door_case.door, changes);
  const std::size_t heats = closed.warm.size();
  for (std::size_t s = 0; s < run.closed.size(); ++s) {
    if (progress)
      progress("what would change it",
               static_cast<double>(s) / static_cast<double>(run.closed.size()));
    const bool is_warm = s > 0 && s <= heats;
    ShutDoor shut(door_case.door, closed.shut, is_warm ? &closed.warm[s - 1] : nullptr, places,
                  parts);
    try_changes(door_case, shut, run.closed[s].state, s > heats, changes);
  }
  const bool fails_hot = std::any_of(run.findings.begin(), run.findings.end(), [&](const auto& f) {
    return f.verdict == Verdict::fails && f.state.rfind("closed", 0) == 0 &&
           f.state != run.closed.front().state && f.state != run.closed.back().state;
  });
  if (fails_hot)
    for (auto& change : panel_changes(door_case, progress))
      changes.push_back(std::move(change));
  run.advice = advice(changes);
}

// The firing on the finest mesh that the cold door needed. The mesh error of the drop is taken as
// that of the cold one: play and steel are the same parts, and the bow shifts the drop little.
void add_warm_states(const DoorCase& door_case, Closed* closed, const Progress& progress,
                     FactoredBodies& parts, CheckRun& run)
{
  const Door& door = door_case.door;
  const auto tell = [&](const std::string& stage, double done) {
    if (progress)
      progress(stage, done);
  };
  Firing firing =
      fire_door(door, run.mesh.door, [&](double share) { tell("warm-up", 0.5 * share); });
  run.curve = firing.curve;
  double done = 0.5;
  const double each = 0.5 / static_cast<double>(firing.states.size());
  for (const WarmDoor& state : firing.states) {
    Deflection deflection = deflect_open(
        door, run.mesh,
        [&](const std::string& stage, double share) {
          tell(state.state + ": " + stage, done + each * share);
        },
        &state, &parts);
    done += each;
    deflection.drop_error = run.deflection.drop_error;
    const auto found = judge(door_case, deflection);
    run.findings.insert(run.findings.end(), found.begin(), found.end());
    run.warm.push_back(std::move(deflection));
    run.fields.push_back(state.at);
    if (closed != nullptr) {
      tell(closed_name(state.state), done);
      add_closed(door_case, *closed, state, parts, run);
    }
  }
  if (closed == nullptr)
    return;
  if (!firing.way.empty()) {
    tell("closed, the loosest instant", done);
    const WarmInstant* worst = loosest(door_case, *closed, firing, run.shut_way);
    const bool seen = std::any_of(firing.states.begin(), firing.states.end(), [&](const auto& s) {
      return worst == nullptr || std::abs(s.warmth.time - worst->time) < 0.1 * worst->time;
    });
    if (!seen) {
      firing.states.push_back(
          state_at(door, run.mesh.door,
                   fmt::format("open, gasket loosest at {:.0f} min", worst->time / 60.0), *worst,
                   firing.states.front().warmth.energy_error));
      add_closed(door_case, *closed, firing.states.back(), parts, run);
    }
  }
  closed->warm = std::move(firing.states);
  tell("closed, cooled again", done);
  add_closed(door_case, *closed->cold, "closed, cooled again", true, run);
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

} // namespace

CheckRun check_door(const DoorCase& door_case, const Progress& progress, FactoredBodies* kept,
                    const MemoryCare& care)
{
  FactoredBodies own;
  FactoredBodies& parts = kept != nullptr ? *kept : own;
  const Door& door = door_case.door;
  const double wanted = door_case.accuracy.tolerance * door_case.limits.drop.value;
  const int most = door_case.accuracy.finest;
  CheckRun run;
  if (progress)
    progress("level 1: mesh", 0.0);
  std::vector<Mesh> meshes = first_meshes(door, most, kept, care);
  for (int level = 1; level <= most; ++level) {
    const int likely = std::max(level, std::min(2, most)); // most doors are done at the second
    const double from = level > 1 ? share_up_to(level - 1, likely) : 0.0;
    const double to = share_up_to(level, likely);
    const Progress part = [&](const std::string& stage, double done) {
      if (progress)
        progress(fmt::format("level {}: {}", level, stage), from + done * (to - from));
    };
    part("mesh", 0.0);
    if (kept == nullptr) // parts of the coarser level serve nothing any more
      own = {};
    const bool made = level <= static_cast<int>(meshes.size());
    Mesh mesh = made ? std::move(meshes[level - 1]) : loft(door, fineness(door, level));
    if (!made)
      keep_within(memory_need(door, mesh, level), care, kept);
    const MeshQuality quality = inspect(mesh, door);
    Deflection deflection = deflect_open(door, mesh, part, nullptr, &parts, level > 1 || most == 1);
    LevelAnswer answer{level, deflection.unknowns, deflection.drop, -1.0};
    if (!run.levels.empty())
      answer.error = std::abs(answer.drop - run.levels.back().drop);
    run.levels.push_back(answer);
    run.mesh = std::move(mesh);
    run.quality = quality;
    run.deflection = std::move(deflection);
    run.reached = answer.error >= 0.0 && answer.error <= wanted;
    if (run.reached)
      break;
  }
  // A single level tells nothing about its error: the whole drop is taken.
  const double error = run.levels.back().error;
  run.deflection.drop_error = error >= 0.0 ? error : std::abs(run.deflection.drop);
  run.findings = judge(door_case, run.deflection);
  if (door_case.use.swings_per_day > 0.0) {
    run.wear = wear_out(door, run.mesh, door_case.use, run.deflection, parts, progress);
    run.findings.push_back(judge_wear(door_case, run.deflection, run.wear));
  }
  std::optional<Closed> closed;
  if (can_shut(door)) {
    if (progress)
      progress("closed cold", 1.0);
    closed.emplace();
    closed->shut = shut_mesh(door, run.levels.back().level);
    closed->cold = std::make_unique<ShutDoor>(door, closed->shut, nullptr, door.latches, parts);
    add_closed(door_case, *closed->cold, "closed cold", false, run);
  }
  if (!door.fire.schedule.empty() || door.fire.measured.given)
    add_warm_states(door_case, closed ? &*closed : nullptr, progress, parts, run);
  if (closed)
    add_advice(door_case, *closed, progress, parts, run);
  return run;
}

} // namespace hangtrue
