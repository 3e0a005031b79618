// SPDX-License-Identifier: GPL-3.0-or-later
// Remedies of a closed door that fails, or of one without enough end float.
#pragma once

#include "cases/check/check_run.hpp"
#include "cases/check/thermal_states.hpp"
#include "cases/input/door_case.hpp"
#include "meshing/common/progress.hpp"

namespace hangtrue::check
{

/// Tries remedies in all closed states of a door that fails. Where end float is short every other
/// remedy is tried with enough of it. `closed` are the closed states of the check, null where the
/// door cannot be closed; they are used up. Throws ComputeError like the states.
void add_remedies(const input::DoorCase& door_case, ClosedStates* closed, int threads,
                  const Progress& progress, CheckRun& run);

} // namespace hangtrue::check
