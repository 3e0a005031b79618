// What would change a closed door that fails, or one that is short of end float.
#pragma once

#include "cases/check/check_run.hpp"
#include "cases/check/thermal_states.hpp"
#include "cases/input/door_case.hpp"
#include "meshing/common/progress.hpp"

namespace hangtrue
{

/// Only a door that fails is worth a second round through all its states, with every change. Where
/// end float is short every other change is tried with enough of it. `closed` are the closed states
/// of the check, null where it cannot be shut; no more is asked of them. Throws ComputeError like
/// the states.
void add_advice(const DoorCase& door_case, Closed* closed, int threads, const Progress& progress,
                CheckRun& run);

} // namespace hangtrue
