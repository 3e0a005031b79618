// SPDX-License-Identifier: GPL-3.0-or-later
#include "cases/compare/worker_pool.hpp"

#include "cases/compare/worker_protocol.hpp"
#include "meshing/common/errors.hpp"

#include <fcntl.h>
#include <fmt/format.h>
#include <poll.h>
#include <sched.h>
#include <spawn.h>
#include <sys/wait.h>
#include <unistd.h>

#include <algorithm>
#include <array>
#include <cerrno>
#include <charconv>
#include <csignal>
#include <cstring>
#include <optional>

namespace hangtrue::compare
{

namespace
{

// One worker and its work: work[next, end) and the current number.
struct Worker {
  pid_t process = -1; // none before a forked worker has started
  bool ours = true;   // started here, else copied from the first worker
  int to = -1;
  int from = -1;
  std::size_t next = 0;
  std::size_t end = 0;
  std::optional<int> in_hand;
  std::string heard;
};

void close_end(int& end)
{
  if (end >= 0)
    close(end);
  end = -1;
}

// A worker, forked or not, has ended when nothing more can come from it.
void wait_for_silence(int from)
{
  std::array<char, 256> last{};
  ssize_t got = from >= 0 ? 1 : 0;
  while (got > 0 || (got < 0 && errno == EINTR))
    got = read(from, last.data(), last.size());
}

// Workers share the processors: one BLAS thread each.
std::vector<std::string> worker_environment(bool many, int followers)
{
  std::vector<std::string> result;
  const std::string requested = std::string(forked_workers_variable) + "=";
  for (char** line = environ; *line != nullptr; ++line) {
    const std::string entry = *line;
    if (entry.rfind(requested, 0) == 0)
      continue;
    if (!many ||
        (entry.rfind("OPENBLAS_NUM_THREADS=", 0) != 0 && entry.rfind("OMP_NUM_THREADS=", 0) != 0))
      result.push_back(entry);
  }
  if (many) {
    result.emplace_back("OPENBLAS_NUM_THREADS=1");
    result.emplace_back("OMP_NUM_THREADS=1");
  }
  if (followers > 0)
    result.push_back(requested + std::to_string(followers));
  return result;
}

std::vector<char*> pointers(std::vector<std::string>& texts)
{
  std::vector<char*> result;
  for (auto& text : texts)
    result.push_back(text.data());
  result.push_back(nullptr);
  return result;
}

// The workers' own ends of the pipes, open here until they have started: before they are closed,
// the end of a worker cannot be seen.
class TheirEnds
{
public:
  struct Pair {
    int reads = -1;
    int writes = -1;
  };
  std::vector<Pair> of;

  TheirEnds() = default;
  TheirEnds(const TheirEnds&) = delete;
  TheirEnds& operator=(const TheirEnds&) = delete;
  ~TheirEnds()
  {
    for (auto& pair : of) {
      close_end(pair.reads);
      close_end(pair.writes);
    }
  }
};

// Beyond all numbers that they become in the worker.
int moved_up(int end)
{
  const int moved = fcntl(end, F_DUPFD_CLOEXEC, forked_worker_writes(max_forked_workers) + 1);
  close(end);
  return moved;
}

bool open_pipes(Worker& worker, TheirEnds& theirs)
{
  std::array<int, 2> down{};
  std::array<int, 2> up{};
  if (pipe2(down.data(), O_CLOEXEC) != 0)
    return false;
  worker.to = down[1];
  theirs.of.push_back({moved_up(down[0]), -1});
  if (pipe2(up.data(), O_CLOEXEC) != 0)
    return false;
  worker.from = up[0];
  theirs.of.back().writes = moved_up(up[1]);
  return theirs.of.back().reads >= 0 && theirs.of.back().writes >= 0;
}

// Starts the worker whose ends come first; the others are for its forked copies.
bool start(Worker& worker, std::vector<std::string> words, bool many, const TheirEnds& theirs)
{
  const auto& ends = theirs.of;
  auto environment = worker_environment(many, static_cast<int>(ends.size()) - 1);
  const auto argument = pointers(words);
  const auto key_value = pointers(environment);
  posix_spawn_file_actions_t actions;
  posix_spawn_file_actions_init(&actions);
  posix_spawn_file_actions_adddup2(&actions, ends.front().reads, STDIN_FILENO);
  posix_spawn_file_actions_adddup2(&actions, ends.front().writes, STDOUT_FILENO);
  for (std::size_t e = 1; e < ends.size(); ++e) {
    const int k = static_cast<int>(e) - 1;
    posix_spawn_file_actions_adddup2(&actions, ends[e].reads, forked_worker_reads(k));
    posix_spawn_file_actions_adddup2(&actions, ends[e].writes, forked_worker_writes(k));
  }
  const int failed = posix_spawn(&worker.process, "/proc/self/exe", &actions, nullptr,
                                 argument.data(), key_value.data());
  posix_spawn_file_actions_destroy(&actions);
  if (failed != 0)
    worker.process = -1;
  errno = failed;
  return failed == 0;
}

// The workers end with the process that started them, however that ends.
class WorkerPool
{
public:
  std::vector<Worker> workers;
  std::vector<std::string> words;
  bool in_order = false;

  WorkerPool() = default;
  WorkerPool(const WorkerPool&) = delete;
  WorkerPool& operator=(const WorkerPool&) = delete;
  ~WorkerPool()
  {
    for (auto& w : workers) {
      close_end(w.to);
      if (w.process > 0 && w.in_hand)
        kill(w.process, SIGTERM);
    }
    for (auto& w : workers) {
      wait_for_silence(w.from);
      if (w.process > 0 && w.ours)
        while (waitpid(w.process, nullptr, 0) < 0 && errno == EINTR) {
        }
      close_end(w.from);
    }
  }
};

// Its own range first, then the far half of the longest one that is left.
std::optional<std::size_t> next_work(std::vector<Worker>& workers, Worker& idle, bool in_order)
{
  if (in_order) { // all take from the first worker's range
    Worker& front = workers.front();
    return front.next == front.end ? std::nullopt : std::optional(front.next++);
  }
  if (idle.next == idle.end) {
    const auto longest =
        std::max_element(workers.begin(), workers.end(), [](const Worker& a, const Worker& b) {
          return a.end - a.next < b.end - b.next;
        });
    const std::size_t left = longest->end - longest->next;
    if (left == 0)
      return std::nullopt;
    idle.end = longest->end;
    longest->end -= (left + 1) / 2;
    idle.next = longest->end;
  }
  return idle.next++;
}

void send(Worker& worker, int number)
{
  const std::string line = fmt::format("{}\n", number);
  worker.in_hand = number;
  if (write(worker.to, line.data(), line.size()) != static_cast<ssize_t>(line.size()))
    close_end(worker.to); // it has died; its silence is seen when it is read
}

void hand_out(WorkerPool& pool, Worker& worker, const std::vector<int>& work)
{
  const auto place = next_work(pool.workers, worker, pool.in_order);
  if (!place) {
    close_end(worker.to); // it reads the end and leaves
    return;
  }
  send(worker, work[*place]);
}

// Takes one line of a worker: its process number, a number that is done, or one that is not.
void take_line(Worker& worker, const std::string& line, std::size_t& answers,
               std::vector<FailedJob>& lost)
{
  if (line.rfind(forked_worker_mark, 0) == 0) {
    std::from_chars(line.data() + 1, line.data() + line.size(), worker.process);
    return;
  }
  if (line.rfind(failed_mark, 0) == 0 && worker.in_hand) {
    const auto blank = std::min(line.find(' '), line.size() - 1);
    lost.push_back({*worker.in_hand, line.substr(blank + 1)});
  } else {
    ++answers;
  }
  worker.in_hand.reset();
}

// Reads what a worker says; false when it has left.
bool listen(Worker& worker, std::size_t& answers, std::vector<FailedJob>& lost)
{
  std::array<char, 256> buffer{};
  const ssize_t got = read(worker.from, buffer.data(), buffer.size());
  if (got < 0 && errno == EINTR)
    return true;
  if (got <= 0)
    return false;
  worker.heard.append(buffer.data(), static_cast<std::size_t>(got));
  for (auto line = worker.heard.find('\n'); line != std::string::npos;
       line = worker.heard.find('\n')) {
    take_line(worker, worker.heard.substr(0, line), answers, lost);
    worker.heard.erase(0, line + 1);
  }
  return true;
}

// Exit status of a worker that was started here; a forked one is its parent's to wait for.
std::string end_of(Worker& worker)
{
  int status = 0;
  if (worker.process <= 0 || !worker.ours || waitpid(worker.process, &status, 0) != worker.process)
    return "its worker ended before it was done, perhaps for want of memory (--workers 1 takes "
           "less)";
  worker.process = -1;
  if (WIFSIGNALED(status))
    return fmt::format("its worker was ended by signal {} ({}) before it was done",
                       WTERMSIG(status), strsignal(WTERMSIG(status)));
  return fmt::format("its worker ended with status {} before it was done", WEXITSTATUS(status));
}

[[noreturn]] void refuse_start()
{
  throw ComputeError(fmt::format("workers: the program could not start itself again ({}); free "
                                 "some memory, or ask for fewer with --workers",
                                 std::strerror(errno)));
}

void start_worker_pool(WorkerPool& pool, const std::vector<int>& work, std::size_t count)
{
  const bool copied = count <= max_forked_workers + 1;
  for (std::size_t w = 0; w < count; ++w) {
    Worker worker;
    worker.next = pool.in_order ? 0 : work.size() * w / count;
    worker.end = pool.in_order ? (w == 0 ? work.size() : 0) : work.size() * (w + 1) / count;
    worker.ours = !copied || w == 0;
    pool.workers.push_back(worker);
  }
  TheirEnds ends; // of all, where they are copied
  for (auto& worker : pool.workers) {
    TheirEnds own;
    if (!open_pipes(worker, copied ? ends : own) ||
        (!copied && !start(worker, pool.words, true, own)))
      refuse_start();
  }
  if (copied && !start(pool.workers.front(), pool.words, count > 1, ends))
    refuse_start();
}

// Starts a worker that the first one could not, or did not live to, fork; with the number that it
// was to start with.
bool start_anew(WorkerPool& pool, Worker& worker)
{
  if (worker.ours || worker.process > 0 || !worker.in_hand)
    return false;
  close_end(worker.to);
  close_end(worker.from);
  worker.ours = true;
  TheirEnds ends;
  if (!open_pipes(worker, ends) || !start(worker, pool.words, true, ends))
    return false;
  send(worker, *worker.in_hand);
  return true;
}

} // namespace

int usable_processors()
{
  cpu_set_t set;
  if (sched_getaffinity(0, sizeof(set), &set) != 0)
    return 1;
  return std::max(1, CPU_COUNT(&set));
}

std::vector<FailedJob> run_worker_pool(const std::vector<std::string>& words,
                                       const std::vector<int>& work, int workers,
                                       const std::function<void(std::size_t done)>& report,
                                       bool in_order)
{
  std::vector<FailedJob> lost;
  if (work.empty())
    return lost;
  std::signal(SIGPIPE, SIG_IGN); // a worker that died is seen by its silence
  WorkerPool pool;
  pool.words = words;
  pool.in_order = in_order;
  start_worker_pool(pool, work,
                    std::min(work.size(), static_cast<std::size_t>(std::max(1, workers))));
  for (auto& w : pool.workers)
    hand_out(pool, w, work);
  std::size_t done = 0;
  report(done);
  for (;;) {
    std::vector<pollfd> ends;
    std::vector<Worker*> of;
    for (auto& w : pool.workers)
      if (w.from >= 0) {
        ends.push_back({w.from, POLLIN, 0});
        of.push_back(&w);
      }
    if (ends.empty())
      return lost;
    constexpr int patience = 200; // ms: how soon Ctrl-C is noticed
    poll(ends.data(), ends.size(), patience);
    for (std::size_t e = 0; e < ends.size(); ++e) {
      if (ends[e].revents == 0)
        continue;
      std::size_t answers = 0;
      if (!listen(*of[e], answers, lost)) {
        if (start_anew(pool, *of[e]))
          continue;
        if (of[e]->in_hand)
          lost.push_back({*of[e]->in_hand, end_of(*of[e])});
        of[e]->in_hand.reset();
        close_end(of[e]->from);
        close_end(of[e]->to);
        continue;
      }
      done += answers;
      if (answers > 0)
        report(done); // first: it may be enough
      if (!of[e]->in_hand && of[e]->to >= 0)
        hand_out(pool, *of[e], work);
    }
    report(done);
  }
}

} // namespace hangtrue::compare
