#include "cases/runtime/memory_estimate.hpp"

#include "meshing/common/errors.hpp"
#include "meshing/door/mesh_density.hpp"
#include "meshing/sweep/door_mesher.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

namespace hangtrue
{

namespace
{

// The greatest of demo doors and random doors, and a tenth (docs/verification/robustness.md).
// Fill-in depends on the arrangement of the nodes: many in hinges, which are no plate, need up to
// 1.17 times what the demo doors do.
constexpr double program_bytes = 200e6;   // program and libraries
constexpr double bytes_per_node = 1150.0; // per node and log2 of all nodes, open and cold
constexpr double hot_or_closed = 2.2;     // times as much: both meshes and the heat

} // namespace

MemoryNeed memory_need(const Door& door, const Mesh& mesh, int level)
{
  MemoryNeed need;
  need.level = level;
  need.nodes = mesh.door.nodes.size() + mesh.frame.nodes.size();
  for (const auto& pin : mesh.pins)
    need.nodes += pin.nodes.size();
  // Nested dissection of a body that is flat: its factor grows as n log n (A. George, Nested
  // dissection of a regular finite element mesh, SIAM J. Numer. Anal. 10, 1973); matrices and
  // fields grow as n.
  const auto n = static_cast<double>(need.nodes);
  const bool states = !door.fire.schedule.empty() || door.fire.measured.given || can_shut(door);
  need.bytes = program_bytes + (states ? hot_or_closed : 1.0) * n * bytes_per_node * std::log2(n);
  return need;
}

void refuse_beyond(const MemoryRoom& room, const MemoryNeed& need, double used)
{
  if (need.bytes - used <= room.bytes)
    return;
  const std::string coarser =
      need.level > 1
          ? fmt::format("set finest_level = {} under [accuracy] in the door file", need.level - 1)
          : "this is the coarsest mesh: use a machine with more memory";
  throw ComputeError(fmt::format(
      "memory: mesh level {} with {} nodes needs about {}, {} of it are taken already, and {} are "
      "{}; {}, or make more memory available (end other programs, raise the limit)",
      need.level, need.nodes, memory_words(need.bytes), memory_words(std::min(used, need.bytes)),
      memory_words(room.bytes), room.bound, coarser));
}

std::string memory_words(const MemoryNeed& need)
{
  return fmt::format("needs about {} of memory (mesh level {}, {} nodes)", memory_words(need.bytes),
                     need.level, need.nodes);
}

void keep_within(const MemoryNeed& need, const MemoryCare& care, AnalysisCache* kept)
{
  MemoryRoom room = memory_room(care.room);
  if (kept != nullptr) {
    const double half = 0.5 * (room.bytes + memory_used());
    kept->limit_bytes(static_cast<std::size_t>(half));
    if (need.bytes - memory_used() > room.bytes) {
      kept->factors.parts.clear();
      room = memory_room(care.room);
    }
  }
  refuse_beyond(room, need, memory_used());
}

int workers_with_room(const Door& door, int finest, int wanted, double room)
{
  const int level = std::min(2, finest);
  const MemoryNeed need = memory_need(door, loft(door, fineness(door, level)), level);
  const double fit = std::floor(room / need.bytes);
  return static_cast<int>(std::clamp(fit, 1.0, static_cast<double>(std::max(1, wanted))));
}

} // namespace hangtrue
