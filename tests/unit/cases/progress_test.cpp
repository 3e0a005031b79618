// SPDX-License-Identifier: GPL-3.0-or-later
// A request to end comes through a thread of its own; built with the preset `threads` this is
// checked by the thread sanitizer.
#define BOOST_TEST_MODULE progress
#include <boost/test/unit_test.hpp>

#include "cases/runtime/terminal_progress.hpp"
#include "meshing/common/progress.hpp"

#include <csignal>
#include <thread>
#include <unistd.h>

using namespace hangtrue;

BOOST_AUTO_TEST_CASE(one_request_ends_the_work_at_its_next_progress_call)
{
  runtime::block_signals();
  runtime::start_signal_thread();
  const runtime::CleanupDue due; // else the process would end here and now
  const Progress progress = runtime::terminal_progress();
  const Progress silent = runtime::silent_progress();
  progress("work", 0.1);
  kill(getpid(), SIGTERM); // to the process, as `kill` and a terminal do
  bool ended = false;
  while (!ended) { // a signal that is never received ends in the time limit
    try {
      progress("work", 0.5);
      std::this_thread::yield();
    } catch (const runtime::Interrupted&) {
      ended = true;
    }
  }
  BOOST_CHECK_THROW(silent("work", 0.6), runtime::Interrupted);
  BOOST_CHECK_THROW(runtime::CleanupDue(), runtime::Interrupted); // nothing new is started
}
