// The main job: mesh, solve, refine until the answer is good enough, judge.
#pragma once

#include "cases/check/check_run.hpp"
#include "cases/input/door_case.hpp"
#include "cases/runtime/memory_estimate.hpp"
#include "meshing/common/progress.hpp"
#include "solver/analysis/analysis_cache.hpp"
#include "solver/analysis/open_analysis.hpp"

namespace hangtrue
{

/// Checks the door. The mesh is refined until what the cold drop misses by its dual is below the
/// asked share of its limit, in the hinges alone where all else misses little (`next_levels`); then
/// all other states are answered on that mesh and again, in part, on the last one that was coarser
/// in every part, for their errors (`estimate_errors`). Where a verdict hangs in an error above
/// the asked share, everything is done once more on the next whole level, up to the finest allowed.
/// Throws ComputeError when no answer can be trusted, or before a mesh level that would not fit
/// into memory. `kept` carries factored bodies and heat from one door to the next, and no advice is
/// given then.
CheckRun check_door(const DoorCase& door_case, const Progress& progress,
                    AnalysisCache* kept = nullptr, const MemoryCare& care = {});

} // namespace hangtrue
