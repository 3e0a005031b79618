// SPDX-License-Identifier: GPL-3.0-or-later
// Named tasks with their dependencies, run by the available threads.
#pragma once

#include "meshing/common/progress.hpp"

#include <functional>
#include <string>
#include <vector>

namespace hangtrue::runtime
{

/// A unit of work. Two tasks of which neither needs the other may run at the same time.
struct Task {
  std::string name;
  std::vector<std::string> needs; ///< names of tasks before it in the list
  std::function<void()> run;
};

/// Runs every task once, after all that it needs, on so many threads, of which this is one: each
/// takes the first of the list that is ready, this thread the very first. Results are the same for
/// any number of threads where tasks write to places of their own. When a task throws, those behind
/// it in the list that have not begun are left out, and what the first of the list threw is thrown
/// on once all have ended, as one thread would do. Throws std::invalid_argument for a need that is
/// no task before it.
void run_tasks(const std::vector<Task>& tasks, int threads);

/// A progress that passes on reports of the calling thread only.
Progress from_this_thread(const Progress& progress);

} // namespace hangtrue::runtime
