#include "cases/check_door.hpp"

#include "meshing/loft.hpp"

#include <fmt/format.h>

#include <cmath>
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

// The firing on the finest mesh that the cold door needed. The mesh error of the drop is taken as
// that of the cold one: play and steel are the same parts, and the bow shifts the drop little.
void add_warm_states(const DoorCase& door_case, const Progress& progress, CheckRun& run)
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
        &state);
    done += each;
    deflection.drop_error = run.deflection.drop_error;
    const auto found = judge(door_case, deflection);
    run.findings.insert(run.findings.end(), found.begin(), found.end());
    run.warm.push_back(std::move(deflection));
    run.fields.push_back(state.at);
  }
}

} // namespace

CheckRun check_door(const DoorCase& door_case, const Progress& progress)
{
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
    Deflection deflection = deflect_open(door, mesh, part);
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
  if (!door.fire.schedule.empty() || door.fire.measured.given)
    add_warm_states(door_case, progress, run);
  return run;
}

} // namespace hangtrue
