#include "cases/progress.hpp"

#include <fmt/format.h>
#include <unistd.h>

#include <atomic>
#include <chrono>
#include <csignal>
#include <cstdio>
#include <optional>
#include <thread>

namespace hangtrue
{

namespace
{

// Set by the watching thread, asked for by the working one.
std::atomic<bool> interrupted = false;

sigset_t interrupts()
{
  sigset_t set;
  sigemptyset(&set);
  sigaddset(&set, SIGINT);
  sigaddset(&set, SIGTERM);
  return set;
}

// The first asks for a clean end. One wish often comes as two signals (a wrapper sends it to the
// program and to its group), so only one that comes seconds later ends the program at once; files
// are renamed only when whole.
void watch()
{
  using Clock = std::chrono::steady_clock;
  constexpr std::chrono::seconds impatient{2};
  const sigset_t set = interrupts();
  std::optional<Clock::time_point> first;
  for (int signal = 0; sigwait(&set, &signal) == 0;) {
    if (first && Clock::now() - *first >= impatient) {
      std::signal(signal, SIG_DFL);
      pthread_sigmask(SIG_UNBLOCK, &set, nullptr);
      std::raise(signal);
    }
    if (!first)
      first = Clock::now();
    interrupted = true;
  }
}

bool on_terminal()
{
  return isatty(STDERR_FILENO) == 1;
}

} // namespace

void hold_interrupts()
{
  const sigset_t set = interrupts();
  pthread_sigmask(SIG_BLOCK, &set, nullptr);
}

void watch_for_interrupt()
{
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
    if (interrupted != 0)
      throw Interrupted{};
  };
}

void end_progress()
{
  if (on_terminal())
    fmt::print(stderr, "\r\033[K");
}

} // namespace hangtrue
