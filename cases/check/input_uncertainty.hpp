// SPDX-License-Identifier: GPL-3.0-or-later
// Uncertainty of the results: ranges by sensitivities and tolerances, and their effect on the
// verdicts.
#pragma once

#include "cases/check/check_run.hpp"
#include "cases/input/door_case.hpp"
#include "meshing/common/progress.hpp"

namespace hangtrue::check
{

/// Adds sensitivities and ranges of drop, bow and least squeeze in every state to a finished check,
/// on the coarsest mesh, puts the root-sum-of-squares range beside drop and least load of the
/// gasket and evaluates the checks with them: one that holds but whose range crosses its limit
/// becomes close; one that fails stays. A gasket that has cooled again is left out: its permanent
/// set depends on all states before. Throws ComputeError like the check.
void add_input_uncertainty(const input::DoorCase& door_case, const Progress& progress,
                           CheckRun& run);

} // namespace hangtrue::check
