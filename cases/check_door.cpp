#include "cases/check_door.hpp"

#include "cases/closed_findings.hpp"
#include "meshing/loft.hpp"

#include <fmt/format.h>

#include <cmath>
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

// One closed state and its findings.
void add_closed(const DoorCase& door_case, const Mesh& shut, const std::string& state,
                const WarmDoor* warm, const std::vector<const ClosedDoor*>& after,
                FactoredBodies& parts, CheckRun& run)
{
  ClosedDoor closed = deflect_closed(door_case.door, shut, warm, after, parts, {});
  closed.state = state;
  const auto found = judge_closed(door_case, closed);
  run.findings.insert(run.findings.end(), found.begin(), found.end());
  run.closed.push_back(std::move(closed));
}

// The firing on the finest mesh that the cold door needed. The mesh error of the drop is taken as
// that of the cold one: play and steel are the same parts, and the bow shifts the drop little.
void add_warm_states(const DoorCase& door_case, const Mesh* shut, const Progress& progress,
                     FactoredBodies& parts, CheckRun& run)
{
  const Door& door = door_case.door;
  const auto tell = [&](const std::string& stage, double done) {
    if (progress)
      progress(stage, done);
  };
  const Firing firing =
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
    if (shut != nullptr) {
      tell(closed_name(state.state), done);
      add_closed(door_case, *shut, closed_name(state.state), &state, {}, parts, run);
    }
  }
  if (shut == nullptr)
    return;
  tell("closed, cooled again", done);
  std::vector<const ClosedDoor*> hot;
  for (const auto& closed : run.closed)
    hot.push_back(&closed);
  add_closed(door_case, *shut, "closed, cooled again", nullptr, hot, parts, run);
}

} // namespace

CheckRun check_door(const DoorCase& door_case, const Progress& progress, FactoredBodies* kept)
{
  FactoredBodies own;
  FactoredBodies& parts = kept != nullptr ? *kept : own;
  const Door& door = door_case.door;
  const double wanted = door_case.accuracy.tolerance * door_case.limits.drop.value;
  const int most = door_case.accuracy.finest;
  CheckRun run;
  for (int level = 1; level <= most; ++level) {
    const int likely = std::max(level, std::min(2, most)); // most doors are done at the second
    const double from = level > 1 ? share_up_to(level - 1, likely) : 0.0;
    const double to = share_up_to(level, likely);
    const Progress part = [&](const std::string& stage, double done) {
      if (progress)
        progress(fmt::format("level {}: {}", level, stage), from + done * (to - from));
    };
    part("mesh", 0.0);
    Mesh mesh = loft(door, fineness(door, level));
    const MeshQuality quality = inspect(mesh, door);
    Deflection deflection = deflect_open(door, mesh, part, nullptr, &parts);
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
  std::optional<Mesh> shut;
  if (can_shut(door)) {
    if (progress)
      progress("closed cold", 1.0);
    shut = shut_mesh(door, run.levels.back().level);
    add_closed(door_case, *shut, "closed cold", nullptr, {}, parts, run);
  }
  if (!door.fire.schedule.empty() || door.fire.measured.given)
    add_warm_states(door_case, shut ? &*shut : nullptr, progress, parts, run);
  return run;
}

} // namespace hangtrue
