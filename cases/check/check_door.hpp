// SPDX-License-Identifier: GPL-3.0-or-later
// The main task: mesh, solve, refine until the error is small enough, evaluate the checks.
#pragma once

#include "cases/check/check_run.hpp"
#include "cases/input/door_case.hpp"
#include "cases/runtime/memory_estimate.hpp"
#include "meshing/common/progress.hpp"
#include "solver/analysis/analysis_cache.hpp"
#include "solver/analysis/open_analysis.hpp"

namespace hangtrue::check
{

/// Checks the door. The mesh is refined until the dual-weighted error of the cold drop is below the
/// requested fraction of its limit, in the hinges alone where the error elsewhere is small
/// (`next_levels`); then all other states are solved on that mesh and again, in part, on the last
/// one that was coarser in every part, for their errors (`estimate_errors`). Where a verdict is
/// undecided within an error above the requested fraction, everything is repeated on the next whole
/// level, up to the finest allowed. Throws ComputeError when no result can be trusted, or before a
/// mesh level that would not fit into memory. `cache` passes factorized bodies and heat from one
/// door to the next, and no advice is given then.
CheckRun check_door(const input::DoorCase& door_case, const Progress& progress,
                    analysis::AnalysisCache* cache = nullptr,
                    const runtime::MemoryPolicy& policy = {});

} // namespace hangtrue::check
