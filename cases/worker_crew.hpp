// A crew of worker processes: this program again, given one number after the other.
#pragma once

#include "solver/open_door.hpp"

#include <functional>
#include <string>
#include <vector>

namespace hangtrue
{

/// Processors that this process may use, at least 1.
int usable_processors();

/// Starts `workers` times this program with `words`, hands every worker its own run of `work`, and
/// lets one that is done take over the far half of the longest run that is left, so that neighbours
/// in `work` mostly stay with one worker. A worker reads numbers, one a line, and answers each with
/// the same number when it is done. With `in_order` the whole crew works from the front instead.
/// `told` hears of the numbers done; it may throw, which ends the
/// crew. Gives the numbers that a worker died on. Throws ComputeError when none can be started.
std::vector<int> run_crew(const std::vector<std::string>& words, const std::vector<int>& work,
                          int workers, const std::function<void(std::size_t done)>& told,
                          bool in_order = false);

/// The worker's side: every number from standard input is given to `job`, then answered.
void serve_crew(const std::function<void(int)>& job);

} // namespace hangtrue
