#include "cases/progress.hpp"

#include <fmt/format.h>
#include <unistd.h>

#include <chrono>
#include <csignal>
#include <cstdio>
#include <ctime>

namespace hangtrue
{

namespace
{

// A signal handler can reach nothing else.
volatile std::sig_atomic_t interrupted = 0;
volatile std::sig_atomic_t first_at = 0; // s on the monotonic clock

// The first asks for a clean end. One wish often comes as two signals (a wrapper sends it to the
// program and to its group), so only one that comes seconds later ends the program at once; files
// are renamed only when whole.
void note_interrupt(int signal)
{
  timespec now{};
  clock_gettime(CLOCK_MONOTONIC, &now);
  constexpr int impatient = 2; // s
  const auto at = static_cast<std::sig_atomic_t>(now.tv_sec);
  if (interrupted == 0) {
    first_at = at;
    interrupted = 1;
  } else if (at - first_at >= impatient) {
    std::signal(signal, SIG_DFL);
    std::raise(signal);
  }
}

bool on_terminal()
{
  return isatty(STDERR_FILENO) == 1;
}

} // namespace

void watch_for_interrupt()
{
  std::signal(SIGINT, note_interrupt);
  std::signal(SIGTERM, note_interrupt);
}

Progress terminal_progress()
{
  using Clock = std::chrono::steady_clock;
  const auto start = Clock::now();
  const bool shown = on_terminal();
  return [start, shown](const std::string& stage, double done) {
    if (interrupted != 0)
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
