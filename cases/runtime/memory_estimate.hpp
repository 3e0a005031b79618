// SPDX-License-Identifier: GPL-3.0-or-later
// How much memory a check will take, from the counts of its mesh.
#pragma once

#include "cases/runtime/memory_limit.hpp"
#include "meshing/door/door.hpp"
#include "meshing/mesh/mesh.hpp"
#include "solver/analysis/analysis_cache.hpp"

#include <functional>
#include <optional>
#include <string>

namespace hangtrue::runtime
{

/// What a check will take on one mesh level.
struct MemoryEstimate {
  int level = 0;
  std::size_t nodes = 0; ///< of all bodies
  double bytes = 0.0;    ///< upper estimate for the whole process
};

/// Estimate of the peak memory of a check on this mesh, byte. Calibrated on demo doors and random
/// doors (docs/verification/robustness.md): true peaks lie between 0.6 of it and the whole. A hot
/// or closed door needs more at a time than a cold one.
MemoryEstimate estimate_memory(const door::Door& door, const mesh::Mesh& mesh, int level);

/// The need in one sentence: "needs about 1.4 GB of memory (mesh level 2, 80000 nodes)".
std::string memory_text(const MemoryEstimate& estimate);

/// Throws ComputeError when the need is greater than the limit: what is needed, what is available,
/// and what to do. `used` is what the process has allocated already, byte, and is part of the need.
void throw_if_exceeds_limit(const AvailableMemory& room, const MemoryEstimate& estimate,
                            double used);

/// Memory options of a run.
struct MemoryPolicy {
  std::optional<double> limit;                          ///< byte, limit given by the user
  std::function<void(const std::string& words)> report; ///< called with the need before the work
};

/// Refuses what does not fit into the room there is now, after giving up the `cache` parts if that
/// helps; they never take more than half of the room. Throws like throw_if_exceeds_limit.
void throw_if_exceeds(const MemoryEstimate& estimate, const MemoryPolicy& policy,
                      analysis::AnalysisCache* cache);

/// Number of workers, at most `wanted` and at least 1, whose checks of this door fit into memory at
/// the same time.
int workers_with_room(const door::Door& door, int finest, int target, double room);

} // namespace hangtrue::runtime
