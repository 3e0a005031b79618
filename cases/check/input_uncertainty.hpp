// How sure the answers are: ranges by slopes and bands, and what they do to the verdicts.
#pragma once

#include "cases/check/check_run.hpp"
#include "cases/input/door_case.hpp"
#include "meshing/common/progress.hpp"

namespace hangtrue
{

/// Adds slopes and ranges of drop, bow and least squeeze in every state to a finished check, on the
/// coarsest mesh, puts the likely range beside drop and least load of the gasket and evaluates the
/// checks with them: one that holds but whose range crosses its limit becomes close; one that fails
/// stays. A gasket that has cooled again is left out: what it has set to hangs on all states
/// before. Throws ComputeError like the check.
void add_spread(const DoorCase& door_case, const Progress& progress, CheckRun& run);

} // namespace hangtrue
