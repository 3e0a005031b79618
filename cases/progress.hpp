// Progress on a terminal, silence in a pipe, and a clean end on Ctrl-C.
#pragma once

#include "solver/open_door.hpp"

namespace hangtrue
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

/// Keeps Ctrl-C (SIGINT) and SIGTERM from this thread and those that it starts, so that no
/// library's own handler ever sees them: METIS puts one on SIGTERM while it orders. Must run before
/// any library starts its threads.
void hold_interrupts();

/// Takes the held signals, by a thread of its own, as a wish to end at the next progress call.
void watch_for_interrupt();

} // namespace hangtrue
