// How much memory a check will take, from the counts of its mesh.
#pragma once

#include "cases/runtime/memory_limit.hpp"
#include "meshing/door/door.hpp"
#include "meshing/mesh/mesh.hpp"
#include "solver/analysis/analysis_cache.hpp"

#include <functional>
#include <optional>
#include <string>

namespace hangtrue
{

/// What a check will take on one mesh level.
struct MemoryNeed {
  int level = 0;
  std::size_t nodes = 0; ///< of all bodies
  double bytes = 0.0;    ///< estimate for the whole process, from above
};

/// Estimate of the most memory that a check takes on this mesh, byte. Calibrated on demo doors
/// and random doors (docs/verification/robustness.md): true peaks lie between 0.6 of it and the
/// whole. A hot or closed door holds more at a time than a cold one.
MemoryNeed memory_need(const Door& door, const Mesh& mesh, int level);

/// The need in one sentence: "needs about 1.4 GB of memory (mesh level 2, 80000 nodes)".
std::string memory_words(const MemoryNeed& need);

/// Throws ComputeError when the need is greater than the room: what is needed, what is there, and
/// what to do. `used` is what the process holds already, byte, and is part of the need.
void refuse_beyond(const MemoryRoom& room, const MemoryNeed& need, double used);

/// What a run is told about memory.
struct MemoryCare {
  std::optional<double> room;                         ///< byte, bound given by the user
  std::function<void(const std::string& words)> tell; ///< hears the need before the work
};

/// Refuses what does not fit into the room there is now, after giving up the `kept` parts if that
/// helps; they never take more than half of the room. Throws like refuse_beyond.
void keep_within(const MemoryNeed& need, const MemoryCare& care, AnalysisCache* kept);

/// So many workers, at most `wanted` and at least 1, as find room for a check of this door at the
/// same time.
int workers_with_room(const Door& door, int finest, int wanted, double room);

} // namespace hangtrue
