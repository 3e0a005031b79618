#include "cases/runtime/task_queue.hpp"

#include <utility>

namespace hangtrue
{

namespace
{

// Takes the next task; an empty one when there is none.
std::function<void()> take(SharedWork& work)
{
  if (work.tasks.empty())
    return {};
  std::function<void()> task = std::move(work.tasks.front());
  work.tasks.pop_front();
  return task;
}

} // namespace

void put(SharedWork& work, std::function<void()> task)
{
  const std::lock_guard<std::mutex> alone(work.alone);
  work.tasks.push_back(std::move(task));
  work.changed.notify_one();
}

void complete(SharedWork& work)
{
  const std::lock_guard<std::mutex> alone(work.alone);
  work.complete = true;
  work.changed.notify_all();
}

void do_what_is_there(SharedWork& work)
{
  while (true) {
    std::function<void()> task;
    {
      const std::lock_guard<std::mutex> alone(work.alone);
      task = take(work);
    }
    if (!task)
      return;
    task();
  }
}

void do_all(SharedWork& work)
{
  while (true) {
    std::function<void()> task;
    {
      std::unique_lock<std::mutex> alone(work.alone);
      work.changed.wait(alone, [&] { return work.complete || !work.tasks.empty(); });
      task = take(work);
    }
    if (!task)
      return;
    task();
  }
}

} // namespace hangtrue
