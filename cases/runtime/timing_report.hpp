// SPDX-License-Identifier: GPL-3.0-or-later
// Time of each stage of a run: separate from the results, which do not change from run to run.
#pragma once

#include "meshing/common/progress.hpp"
#include "solver/analysis/open_analysis.hpp"

#include <chrono>
#include <string>
#include <vector>

namespace hangtrue::runtime
{

/// Seconds that one stage took, by the wall clock.
struct StageTime {
  std::string stage;
  double seconds = 0.0;
};

/// Stages in the order of their first call, and the clock that fills them.
struct StageTimes {
  using Clock = std::chrono::steady_clock;
  std::vector<StageTime> stages;
  std::string running = "reading";
  Clock::time_point last = Clock::now();
};

/// `shown`, with the time between calls added to the stage that the earlier call named.
/// `times` must live as long as the progress is used.
Progress timed(const Progress& shown, StageTimes& times);

/// timing.json: every stage and the whole in s, the peak memory of the process, byte, and the
/// kernels that BLAS chose, on which the last digits of results.json depend.
std::string timing_json(const StageTimes& times);

} // namespace hangtrue::runtime
