// SPDX-License-Identifier: GPL-3.0-or-later
// A pool of worker processes: this program again, given one number after the other.
#pragma once

#include "solver/analysis/open_analysis.hpp"

#include <functional>
#include <string>
#include <vector>

namespace hangtrue::compare
{

/// Processors that this process may use, at least 1.
int usable_processors();

/// A number that was not done, and why.
struct FailedJob {
  int number = 0;
  std::string why;
};

/// Distributes `work` to `workers` processes of this program, started with `words`: every worker
/// gets its own range of it, and one that is done takes the far half of the longest range that is
/// left, so that neighbours in `work` mostly stay with one worker. A worker reads numbers, one a
/// line, and replies with the same number when it is done. The first worker is started and the
/// others are forked from it once it has done its first number (run_worker), so that what they have
/// in common is computed and in memory once. With `in_order` the whole pool works from the front
/// instead. `report` is called with the numbers done before the next is assigned; it may throw,
/// which ends the pool. Returns the numbers that a worker crashed on or could not do. Throws
/// ComputeError when none can be started.
std::vector<FailedJob> run_worker_pool(const std::vector<std::string>& words,
                                       const std::vector<int>& work, int workers,
                                       const std::function<void(std::size_t done)>& report,
                                       bool in_order = false);

/// The worker's side: every number from standard input is given to `job`, then replied to, with the
/// message of an InputError, a ComputeError or a lack of memory where `job` throws one; `alone`
/// says that the other workers wait for it, so that it may use two threads. After that first one
/// the process forks as many copies as requested (worker_protocol.hpp), unless threads of a library
/// run in it, which a copy would lack; then the parent starts the others itself.
void run_worker(const std::function<void(int number, bool alone)>& job);

} // namespace hangtrue::compare
