// SPDX-License-Identifier: GPL-3.0-or-later
#include "cases/runtime/schedule.hpp"

#include "cases/runtime/blas_setup.hpp"

#include <algorithm>
#include <condition_variable>
#include <cstddef>
#include <exception>
#include <mutex>
#include <stdexcept>
#include <system_error>
#include <thread>

namespace hangtrue::runtime
{

namespace
{

// Places of the tasks that each task needs.
std::vector<std::vector<std::size_t>> needs_of(const std::vector<Task>& tasks)
{
  std::vector<std::vector<std::size_t>> needs(tasks.size());
  for (std::size_t t = 0; t < tasks.size(); ++t)
    for (const auto& need : tasks[t].needs) {
      const auto end = tasks.begin() + static_cast<std::ptrdiff_t>(t);
      const auto found =
          std::find_if(tasks.begin(), end, [&](const Task& other) { return other.name == need; });
      if (found == end)
        throw std::invalid_argument("task " + tasks[t].name + " needs " + need +
                                    ", which is no task before it");
      needs[t].push_back(static_cast<std::size_t>(found - tasks.begin()));
    }
  return needs;
}

// What the threads share.
class Schedule
{
public:
  explicit Schedule(const std::vector<Task>& tasks)
      : tasks_(tasks), needs_(needs_of(tasks)), state_(tasks.size(), State::waits),
        error_(tasks.size()), end_(tasks.size())
  {
  }

  // The first task that is ready, once there is one; the number of tasks when none is left to
  // begin.
  std::size_t begin_next()
  {
    std::unique_lock<std::mutex> lock(mutex_);
    std::size_t next = ready();
    while (next == tasks_.size() && some_wait()) {
      changed_.wait(lock);
      next = ready();
    }
    if (next < tasks_.size())
      state_[next] = State::begun;
    return next;
  }

  void run(std::size_t task)
  {
    std::exception_ptr error;
    try {
      tasks_[task].run();
    } catch (...) {
      error = std::current_exception();
    }
    const std::lock_guard<std::mutex> lock(mutex_);
    state_[task] = State::done;
    error_[task] = error;
    if (error)
      end_ = std::min(end_, task);
    changed_.notify_all();
  }

  // Until none is left to begin.
  void run_all()
  {
    for (std::size_t task = begin_next(); task < tasks_.size(); task = begin_next())
      run(task);
  }

  // Of the first task of the list that failed, when all have ended.
  void rethrow() const
  {
    if (end_ < tasks_.size())
      std::rethrow_exception(error_[end_]);
  }

private:
  enum class State { waits, begun, done };

  const std::vector<Task>& tasks_;
  const std::vector<std::vector<std::size_t>> needs_;
  std::mutex mutex_; // over all below
  std::condition_variable changed_;
  std::vector<State> state_;
  std::vector<std::exception_ptr> error_;
  std::size_t end_; // tasks from here on are not begun any more: this one failed

  [[nodiscard]] std::size_t ready() const
  {
    for (std::size_t t = 0; t < end_; ++t)
      if (state_[t] == State::waits &&
          std::all_of(needs_[t].begin(), needs_[t].end(),
                      [&](std::size_t need) { return state_[need] == State::done; }))
        return t;
    return tasks_.size();
  }

  [[nodiscard]] bool some_wait() const
  {
    return std::find(state_.begin(), state_.begin() + static_cast<std::ptrdiff_t>(end_),
                     State::waits) != state_.begin() + static_cast<std::ptrdiff_t>(end_);
  }
};

} // namespace

void run_tasks(const std::vector<Task>& tasks, int threads)
{
  Schedule schedule(tasks);
  if (tasks.empty())
    return;
  const std::size_t first = schedule.begin_next(); // it needs nothing
  std::vector<std::thread> others;
  try {
    for (int t = 1; t < std::min(static_cast<int>(tasks.size()), threads); ++t)
      others.emplace_back([&schedule] {
        use_one_blas_thread();
        schedule.run_all();
      });
  } catch (const std::system_error&) { // no thread is to be had: those that are there do it
  }
  schedule.run(first);
  schedule.run_all();
  for (auto& other : others)
    other.join();
  schedule.rethrow();
}

Progress from_this_thread(const Progress& progress)
{
  if (!progress)
    return progress;
  const auto here = std::this_thread::get_id();
  return [progress, here](const std::string& stage, double done) {
    if (std::this_thread::get_id() == here)
      progress(stage, done);
  };
}

} // namespace hangtrue::runtime
