// SPDX-License-Identifier: GPL-3.0-or-later
// Progress on a terminal, silence in a pipe, and a clean end on Ctrl-C.
#pragma once

#include "meshing/common/progress.hpp"
#include "solver/analysis/open_analysis.hpp"

namespace hangtrue::runtime
{

/// Progress that draws one line with the time left on standard error when that is a terminal, and
/// nothing otherwise. Every call also ends the run (throws Interrupted) after Ctrl-C.
Progress terminal_progress();

/// Progress that draws nothing anywhere, but ends the run after Ctrl-C like the other.
Progress silent_progress();

/// Clears the line that was drawn last.
void end_progress();

/// Thrown from a progress call after Ctrl-C.
struct Interrupted {
};

/// Status of a process that Ctrl-C (SIGINT) or SIGTERM ended, as shells report SIGINT.
inline constexpr int by_interrupt = 130;

/// While one exists there is something to clean up (a folder, temporary files, workers), so that
/// Ctrl-C waits for the next progress call. While none exists it ends the process at once.
class CleanupDue
{
public:
  /// Throws Interrupted when the request to end has come already.
  CleanupDue();
  ~CleanupDue();
  CleanupDue(const CleanupDue&) = delete;
  CleanupDue& operator=(const CleanupDue&) = delete;
};

/// Blocks Ctrl-C (SIGINT) and SIGTERM in this thread and those that it starts, so that no library's
/// own handler ever sees them: METIS installs one for SIGTERM while it orders. Must run before any
/// library starts its threads.
void block_signals();

/// Receives the blocked signals, in a thread of its own, as a request to end: at once when no
/// CleanupDue exists, else at the next progress call; a second one that comes two seconds later or
/// more ends at once. The status is by_interrupt each time. A signal that is pending already is
/// received before this returns.
void start_signal_thread();

} // namespace hangtrue::runtime
