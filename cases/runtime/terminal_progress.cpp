// SPDX-License-Identifier: GPL-3.0-or-later
#include "cases/runtime/terminal_progress.hpp"

#include <fmt/format.h>
#include <unistd.h>

#include <atomic>
#include <chrono>
#include <csignal>
#include <cstdio>
#include <ctime>
#include <optional>
#include <string_view>
#include <thread>

namespace hangtrue::runtime
{

namespace
{

// Set by the watching thread, read by the working one.
std::atomic<bool> interrupted = false;

// How many CleanupDue live, or `ending`. Counted without a lock: a copy of the process (fork) could
// find a lock taken by a thread that it does not have.
constexpr int ending = -1;
std::atomic<int> cleanups = 0;

sigset_t interrupts()
{
  sigset_t set;
  sigemptyset(&set);
  sigaddset(&set, SIGINT);
  sigaddset(&set, SIGTERM);
  return set;
}

bool on_terminal()
{
  return isatty(STDERR_FILENO) == 1;
}

// From another thread than the working one: nothing here may wait for a lock of that.
[[noreturn]] void end_at_once(const std::string_view words)
{
  const std::string_view clear = on_terminal() ? "\r\033[K" : "";
  for (const auto part : {clear, words})
    if (write(STDERR_FILENO, part.data(), part.size()) < 0)
      break;
  _exit(by_interrupt);
}

void take_wish()
{
  interrupted = true;
  int none = 0;
  if (cleanups.compare_exchange_strong(none, ending))
    end_at_once("ended before it was done; nothing half-written was left\n");
}

// One request often comes as two signals (a wrapper sends it to the program and to its group), so
// only one that comes seconds later ends the program at once whatever it does; files are renamed
// only when complete.
void watch()
{
  using Clock = std::chrono::steady_clock;
  constexpr std::chrono::seconds impatient{2};
  const sigset_t set = interrupts();
  std::optional<Clock::time_point> first;
  for (int signal = 0; sigwait(&set, &signal) == 0;) {
    if (first && Clock::now() - *first >= impatient)
      end_at_once("ended at once; the next run clears away what was left half-written\n");
    if (!first)
      first = Clock::now();
    take_wish();
  }
}

} // namespace

CleanupDue::CleanupDue()
{
  int now = cleanups;
  do {
    while (now == ending) // the watching thread ends the process
      pause();
  } while (!cleanups.compare_exchange_weak(now, now + 1));
  if (interrupted) {
    --cleanups;
    throw Interrupted{};
  }
}

CleanupDue::~CleanupDue()
{
  --cleanups;
}

void block_signals()
{
  const sigset_t set = interrupts();
  pthread_sigmask(SIG_BLOCK, &set, nullptr);
}

void start_signal_thread()
{
  const sigset_t set = interrupts();
  const timespec now{};
  if (sigtimedwait(&set, nullptr, &now) > 0)
    take_wish();
  std::thread(watch).detach();
}

Progress terminal_progress()
{
  using Clock = std::chrono::steady_clock;
  const auto start = Clock::now();
  const bool shown = on_terminal();
  return [start, shown](const std::string& stage, double done) {
    if (interrupted)
      throw Interrupted{};
    if (!shown)
      return;
    const double spent = std::chrono::duration<double>(Clock::now() - start).count();
    const std::string left =
        done > 0.05 ? fmt::format("{:.0f} s left", spent * (1.0 - done) / done) : "";
    fmt::print(stderr, "\r\033[K{:3.0f} %  {:<32} {}", 100.0 * done, stage, left);
    std::fflush(stderr);
  };
}

Progress silent_progress()
{
  return [](const std::string&, double) {
    if (interrupted)
      throw Interrupted{};
  };
}

void end_progress()
{
  if (on_terminal())
    fmt::print(stderr, "\r\033[K");
}

} // namespace hangtrue::runtime
