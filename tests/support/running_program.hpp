// SPDX-License-Identifier: GPL-3.0-or-later
// A running program that a test observes. Nothing here depends on the clock: a test waits for a
// sign of life and then acts; how long that takes depends on the machine.
#pragma once

#include <cerrno>
#include <chrono>
#include <csignal>
#include <cstdio>
#include <filesystem>
#include <fstream>
#include <functional>
#include <initializer_list>
#include <string>
#include <sys/wait.h>
#include <thread>
#include <unistd.h>
#include <vector>

namespace hangtrue::test
{

/// Polls until `sign` is true; false when `process` has ended before.
inline bool seen(pid_t process, const std::function<bool()>& sign)
{
  for (;;) {
    if (sign())
      return true;
    siginfo_t ended{}; // peeked at only: its status is left for whoever waits for it
    if (waitid(P_PID, static_cast<id_t>(process), &ended, WEXITED | WNOHANG | WNOWAIT) == 0 &&
        ended.si_pid == process)
      return sign();
    std::this_thread::sleep_for(std::chrono::milliseconds(2)); // between two polls
  }
}

/// Whether SIGTERM is in a mask of the process (proc(5): SigBlk, SigCgt).
inline bool has_sigterm(pid_t process, const std::string& mask)
{
  std::ifstream status("/proc/" + std::to_string(process) + "/status");
  for (std::string line; std::getline(status, line);)
    if (line.rfind(mask, 0) == 0)
      return ((std::stoull(line.substr(mask.size() + 1), nullptr, 16) >> (SIGTERM - 1)) & 1U) != 0;
  return false;
}

/// Whether it blocks SIGTERM: the first thing that the program does.
inline bool holds_signals(pid_t process)
{
  return has_sigterm(process, "SigBlk");
}

/// One program, started in a folder with its arguments; standard output and error go to out.txt and
/// err.txt there. It is killed with this object.
class Running
{
public:
  /// `fixed` is a signal that is blocked and sent before the program starts: it is pending then.
  Running(const std::filesystem::path& folder, std::vector<std::string> words, int held = 0)
  {
    std::vector<char*> argument;
    for (auto& word : words)
      argument.push_back(word.data());
    argument.push_back(nullptr);
    for (const char* of_another : {"out.txt", "err.txt"}) // not of this one
      std::filesystem::remove(folder / of_another);
    std::fflush(nullptr); // or it would be written twice
    process_ = fork();
    if (process_ != 0)
      return;
    if (held != 0) {
      sigset_t set;
      sigemptyset(&set);
      sigaddset(&set, held);
      sigprocmask(SIG_BLOCK, &set, nullptr);
      raise(held);
    }
    if (chdir(folder.c_str()) == 0 && std::freopen("out.txt", "w", stdout) != nullptr &&
        std::freopen("err.txt", "w", stderr) != nullptr)
      execv(argument[0], argument.data());
    _exit(127);
  }
  Running(const Running&) = delete;
  Running& operator=(const Running&) = delete;
  ~Running()
  {
    if (process_ <= 0)
      return;
    ::kill(process_, SIGKILL);
    static_cast<void>(end());
  }

  [[nodiscard]] pid_t process() const { return process_; }
  void send(int signal) const { ::kill(process_, signal); }

  /// Waits for its end: its status, or 128 and the signal that ended it, as in shells.
  int end()
  {
    int status = 0;
    while (waitpid(process_, &status, 0) < 0 && errno == EINTR) {
    }
    process_ = -1;
    return WIFEXITED(status) ? WEXITSTATUS(status) : 128 + WTERMSIG(status);
  }

private:
  pid_t process_ = -1;
};

} // namespace hangtrue::test
