// SPDX-License-Identifier: GPL-3.0-or-later
// The private display: it comes and goes, ends although signals are blocked, and says what it
// lacks.
#define BOOST_TEST_MODULE offscreen_display
#include <boost/test/unit_test.hpp>

#include "viz/scene/offscreen_display.hpp"

#include <csignal>
#include <cstdlib>
#include <fstream>
#include <string>

#include <unistd.h>

using namespace hangtrue;

// Without DISPLAY: a server of its own, which is ended afterwards.
BOOST_AUTO_TEST_CASE(a_private_display_comes_and_goes)
{
  unsetenv("DISPLAY");
  std::string name;
  {
    const scene::Display display;
    BOOST_REQUIRE_MESSAGE(display.ready(), display.trouble());
    name = std::getenv("DISPLAY");
    BOOST_TEST(name.substr(0, 1) == ":");
  }
  BOOST_TEST(std::getenv("DISPLAY") == nullptr);
}

// Number of the one process that this one has started.
std::string only_child()
{
  std::ifstream children("/proc/self/task/" + std::to_string(getpid()) + "/children");
  std::string number;
  children >> number;
  return number;
}

// The program receives signals in a thread of its own and blocks them elsewhere; a server that
// inherited that would never end.
BOOST_AUTO_TEST_CASE(a_display_ends_although_signals_are_blocked)
{
  sigset_t blocked;
  sigset_t before;
  sigemptyset(&blocked);
  sigaddset(&blocked, SIGTERM);
  sigaddset(&blocked, SIGINT);
  pthread_sigmask(SIG_BLOCK, &blocked, &before);
  {
    const scene::Display display;
    BOOST_REQUIRE_MESSAGE(display.ready(), display.trouble());
    const std::string server = only_child();
    std::ifstream status("/proc/" + server + "/status");
    std::string line;
    while (std::getline(status, line) && line.rfind("SigBlk:", 0) != 0) {
    }
    BOOST_REQUIRE(line.size() > 7U);
    BOOST_TEST((std::stoull(line.substr(7), nullptr, 16) >> (SIGTERM - 1) & 1U) == 0U);
  }
  pthread_sigmask(SIG_SETMASK, &before, nullptr);
}

BOOST_AUTO_TEST_CASE(without_a_server_the_message_names_the_package)
{
  const std::string path = std::getenv("PATH");
  unsetenv("DISPLAY");
  setenv("PATH", "/nowhere", 1);
  {
    const scene::Display display;
    BOOST_TEST(!display.ready());
    BOOST_TEST(display.trouble().find("package xvfb") != std::string::npos);
  }
  setenv("DISPLAY", ":4711", 1); // named, but no server responds
  {
    const scene::Display display;
    BOOST_TEST(!display.ready());
  }
  unsetenv("DISPLAY");
  setenv("PATH", path.c_str(), 1);
}
