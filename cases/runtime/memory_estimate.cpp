// SPDX-License-Identifier: GPL-3.0-or-later
#include "cases/runtime/memory_estimate.hpp"

#include "meshing/common/errors.hpp"
#include "meshing/door/mesh_density.hpp"
#include "meshing/sweep/door_mesher.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

namespace hangtrue::runtime
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

MemoryEstimate estimate_memory(const door::Door& door, const mesh::Mesh& mesh, int level)
{
  MemoryEstimate estimate;
  estimate.level = level;
  estimate.nodes = mesh.door.nodes.size() + mesh.frame.nodes.size();
  for (const auto& pin : mesh.pins)
    estimate.nodes += pin.nodes.size();
  // Nested dissection of a body that is flat: its factor grows as n log n (A. George, Nested
  // dissection of a regular finite element mesh, SIAM J. Numer. Anal. 10, 1973); matrices and
  // fields grow as n.
  const auto n = static_cast<double>(estimate.nodes);
  const bool states =
      !door.fire.schedule.empty() || door.fire.measured.given || door::can_close(door);
  estimate.bytes =
      program_bytes + (states ? hot_or_closed : 1.0) * n * bytes_per_node * std::log2(n);
  return estimate;
}

void throw_if_exceeds_limit(const AvailableMemory& room, const MemoryEstimate& estimate,
                            double used)
{
  if (estimate.bytes - used <= room.bytes)
    return;
  const std::string coarser =
      estimate.level > 1 ? fmt::format("set finest_level = {} under [accuracy] in the door file",
                                       estimate.level - 1)
                         : "this is the coarsest mesh: use a machine with more memory";
  throw ComputeError(fmt::format(
      "memory: mesh level {} with {} nodes needs about {}, {} of it are taken already, and {} are "
      "{}; {}, or make more memory available (end other programs, raise the limit)",
      estimate.level, estimate.nodes, memory_text(estimate.bytes),
      memory_text(std::min(used, estimate.bytes)), memory_text(room.bytes), room.bound, coarser));
}

std::string memory_text(const MemoryEstimate& estimate)
{
  return fmt::format("needs about {} of memory (mesh level {}, {} nodes)",
                     memory_text(estimate.bytes), estimate.level, estimate.nodes);
}

void throw_if_exceeds(const MemoryEstimate& estimate, const MemoryPolicy& policy,
                      analysis::AnalysisCache* cache)
{
  AvailableMemory room = available_memory(policy.limit);
  if (cache != nullptr) {
    const double half = 0.5 * (room.bytes + memory_used());
    cache->limit_bytes(static_cast<std::size_t>(half));
    if (estimate.bytes - memory_used() > room.bytes) {
      cache->factors.substructures.clear();
      room = available_memory(policy.limit);
    }
  }
  throw_if_exceeds_limit(room, estimate, memory_used());
}

int workers_with_room(const door::Door& door, int finest, int target, double room)
{
  const int level = std::min(2, finest);
  const MemoryEstimate estimate =
      estimate_memory(door, sweep::make_mesh(door, door::mesh_density(door, level)), level);
  const double fit = std::floor(room / estimate.bytes);
  return static_cast<int>(std::clamp(fit, 1.0, static_cast<double>(std::max(1, target))));
}

} // namespace hangtrue::runtime
