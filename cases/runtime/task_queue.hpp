// A task queue for two threads: whichever is free takes the next task.
#pragma once

#include "cases/runtime/blas_setup.hpp"

#include <condition_variable>
#include <deque>
#include <functional>
#include <future>
#include <memory>
#include <mutex>

namespace hangtrue
{

/// Tasks in the order in which they are started. Errors are handled by the tasks (packaged tasks
/// store them).
struct SharedWork {
  std::mutex alone;
  std::condition_variable changed;
  std::deque<std::function<void()>> tasks;
  bool complete = false; ///< no task is added any more
};

/// Adds a task.
void put(SharedWork& work, std::function<void()> task);

/// Says that none will be added.
void complete(SharedWork& work);

/// Does tasks until there are none at the moment.
void do_what_is_there(SharedWork& work);

/// Runs tasks until all are started and none will be added.
void do_all(SharedWork& work);

/// Adds a task that has a result or an error.
template <typename Result, typename Task>
std::future<Result> put_task(SharedWork& work, const Task& task)
{
  const auto packed = std::make_shared<std::packaged_task<Result()>>(task);
  put(work, [packed] { (*packed)(); });
  return packed->get_future();
}

/// Runs work in another thread if `alone`, else in this one when its result is requested. The
/// results are the same.
template <typename Work>
auto aside(bool alone, const Work& work)
{
  return std::async(alone ? std::launch::async : std::launch::deferred, [work] {
    use_one_dense_thread();
    return work();
  });
}

} // namespace hangtrue
