// SPDX-License-Identifier: GPL-3.0-or-later
// The worker's side of a pool.
#include "cases/compare/worker_pool.hpp"
#include "cases/compare/worker_protocol.hpp"
#include "cases/runtime/terminal_progress.hpp"
#include "meshing/common/errors.hpp"

#include <poll.h>
#include <sys/prctl.h>
#include <sys/wait.h>
#include <unistd.h>

#include <algorithm>
#include <cerrno>
#include <charconv>
#include <csignal>
#include <cstdio>
#include <cstdlib>
#include <filesystem>
#include <iostream>
#include <iterator>
#include <new>
#include <optional>
#include <string>
#include <system_error>
#include <thread>

namespace hangtrue::compare
{

namespace
{

int forked_workers_wanted()
{
  const char* requested = std::getenv(forked_workers_variable);
  return requested == nullptr ? 0 : std::clamp(std::atoi(requested), 0, max_forked_workers);
}

void close_forked_workers(int from, int to)
{
  for (int k = from; k < to; ++k) {
    close(forked_worker_reads(k));
    close(forked_worker_writes(k));
  }
}

// A copy has only the thread that forked: another one may be waiting for Ctrl-C.
bool threads_allow_copies()
{
  std::error_code unknown;
  const std::filesystem::directory_iterator threads("/proc/self/task", unknown);
  return !unknown && std::distance(begin(threads), end(threads)) <= 2;
}

// The results of a copy are lost once the process that runs the pool is dead. The first worker, its
// parent, may die before both, so the other end of its input is watched.
void end_with_owner()
{
  std::thread([] {
    pollfd input{STDIN_FILENO, 0, 0};
    while (poll(&input, 1, -1) < 0 && errno == EINTR) {
    }
    kill(getpid(), SIGTERM); // it may be leaving already
  }).detach();
}

// In a copy: takes its own ends and closes the others'.
void become_forked_worker(int k, int count)
{
  dup2(forked_worker_reads(k), STDIN_FILENO);
  dup2(forked_worker_writes(k), STDOUT_FILENO);
  close_forked_workers(k, count);
  runtime::start_signal_thread();
  end_with_owner();
  std::cout << forked_worker_mark << getpid() << std::endl;
}

// Why the number was not done; nothing when it was. In one line.
std::optional<std::string> fault_of(const std::function<void(int, bool)>& job, int number,
                                    bool alone)
{
  std::string why;
  try {
    job(number, alone);
    return std::nullopt;
  } catch (const InputError& error) {
    why = error.what();
  } catch (const ComputeError& error) {
    why = error.what();
  } catch (const std::bad_alloc&) {
    why = "memory: there was not enough on the way";
  }
  std::replace(why.begin(), why.end(), '\n', ' ');
  return why;
}

// Returns true in a copy.
bool copy_self(int count, std::vector<pid_t>& copies)
{
  int k = 0;
  for (; k < count && threads_allow_copies(); ++k) {
    std::fflush(nullptr); // or it would be written twice
    const pid_t result = fork();
    if (result == 0) {
      become_forked_worker(k, count);
      return true;
    }
    if (result > 0) // else its ends close unused, and the pool starts it
      copies.push_back(result);
    close_forked_workers(k, k + 1);
  }
  close_forked_workers(k, count);
  return false;
}

} // namespace

void run_worker(const std::function<void(int number, bool alone)>& job)
{
  prctl(PR_SET_PDEATHSIG, SIGTERM); // its owner's
  const int followers = forked_workers_wanted();
  std::vector<pid_t> copies;
  bool alone = followers > 0;
  for (std::string line; std::getline(std::cin, line);) {
    int number = 0;
    std::from_chars(line.data(), line.data() + line.size(), number);
    const auto fault = fault_of(job, number, alone);
    if (fault)
      std::cout << failed_mark;
    std::cout << number << (fault ? " " + *fault : "") << std::endl; // the parent waits for it
    if (alone && copy_self(followers, copies))
      copies.clear();
    alone = false;
  }
  for (const pid_t copy : copies) // so that the parent, waiting for this one, waits for all
    while (waitpid(copy, nullptr, 0) < 0 && errno == EINTR) {
    }
}

} // namespace hangtrue::compare
