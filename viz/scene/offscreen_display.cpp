// SPDX-License-Identifier: GPL-3.0-or-later
#include "viz/scene/offscreen_display.hpp"

#include <X11/Xlib.h>
#include <fmt/format.h>

#include <array>
#include <cerrno>
#include <csignal>
#include <cstdlib>
#include <fcntl.h>
#include <poll.h>
#include <sys/prctl.h>
#include <sys/wait.h>
#include <unistd.h>

namespace hangtrue::scene
{

namespace
{

constexpr int patience = 10000; // ms for a server to start on a busy machine

bool answers(const char* name)
{
  ::Display* display = XOpenDisplay(name);
  if (display == nullptr)
    return false;
  XCloseDisplay(display);
  return true;
}

// In the child: becomes the server, which writes its number to the pipe. It ends with its parent
// and has a session of its own, so that Ctrl-C does not reach it first. Nothing here may allocate:
// another thread may have locked the heap at the fork.
[[noreturn]] void become_server(const char* pipe, pid_t parent)
{
  prctl(PR_SET_PDEATHSIG, SIGTERM);
  if (getppid() != parent)
    _exit(1);
  setsid();
  sigset_t none; // what the parent blocks would stay blocked, its end among it
  sigemptyset(&none);
  sigprocmask(SIG_SETMASK, &none, nullptr);
  const int silent = open("/dev/null", O_RDWR);
  for (const int stream : {0, 1, 2})
    dup2(silent, stream);
  execlp("Xvfb", "Xvfb", "-displayfd", pipe, "-screen", "0", "640x480x24", "-nolisten", "tcp",
         "-noreset", static_cast<char*>(nullptr));
  _exit(127);
}

// Ends the server, kindly first.
void end_server(pid_t server)
{
  kill(server, SIGTERM);
  constexpr int rounds = 300; // of 10 ms
  for (int i = 0; i < rounds; ++i) {
    if (waitpid(server, nullptr, WNOHANG) != 0)
      return;
    poll(nullptr, 0, 10);
  }
  kill(server, SIGKILL);
  waitpid(server, nullptr, 0);
}

// One line from a pipe, or nothing when it closes or times out.
std::string line_from(int pipe)
{
  std::string text;
  pollfd waiting{pipe, POLLIN, 0};
  while (text.find('\n') == std::string::npos) {
    const int found = poll(&waiting, 1, patience);
    if (found < 0 && errno == EINTR)
      continue;
    if (found <= 0)
      return "";
    std::array<char, 16> part{};
    const ssize_t got = read(pipe, part.data(), part.size());
    if (got <= 0)
      return "";
    text.append(part.data(), static_cast<std::size_t>(got));
  }
  return text.substr(0, text.find('\n'));
}

} // namespace

Display::Display()
{
  if (const char* now = std::getenv("DISPLAY"); now != nullptr) {
    had_before_ = true;
    before_ = now;
  }
  ready_ = start_private();
  if (!ready_ && had_before_ && answers(before_.c_str()))
    ready_ = true;
  if (!ready_)
    trouble_ = "pictures of the door need a display or Xvfb, and neither is there; install the "
               "Debian package xvfb (all numbers and charts are here without it)";
}

bool Display::start_private()
{
  std::array<int, 2> ends{};
  if (pipe(ends.data()) != 0)
    return false;
  fcntl(ends[0], F_SETFD, FD_CLOEXEC);
  const pid_t parent = getpid();
  const std::string reported = fmt::format("{}", ends[1]);
  server_ = fork();
  if (server_ == 0)
    become_server(reported.c_str(), parent);
  close(ends[1]);
  const std::string number = server_ > 0 ? line_from(ends[0]) : "";
  close(ends[0]);
  if (!number.empty()) {
    const std::string name = ":" + number;
    if (answers(name.c_str())) {
      setenv("DISPLAY", name.c_str(), 1);
      return true;
    }
  }
  if (server_ > 0)
    end_server(server_);
  server_ = -1;
  return false;
}

Display::~Display()
{
  if (server_ <= 0)
    return;
  end_server(server_);
  if (had_before_)
    setenv("DISPLAY", before_.c_str(), 1);
  else
    unsetenv("DISPLAY");
}

} // namespace hangtrue::scene
