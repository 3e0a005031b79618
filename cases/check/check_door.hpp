// The main job: mesh, solve, refine until the answer is good enough, judge.
#pragma once

#include "cases/check/uncertainty_result.hpp"
#include "cases/input/door_case.hpp"
#include "cases/runtime/memory_estimate.hpp"
#include "cases/verdict/checks.hpp"
#include "cases/verdict/quantities_of_interest.hpp"
#include "meshing/mesh/mesh.hpp"
#include "meshing/quality/mesh_quality.hpp"
#include "meshing/sweep/door_mesher.hpp"
#include "solver/analysis/closed_analysis.hpp"
#include "solver/analysis/open_analysis.hpp"
#include "solver/analysis/wear_analysis.hpp"
#include "solver/firing/critical_instant.hpp"
#include "solver/substructuring/factorization_cache.hpp"

#include <vector>

namespace hangtrue
{

/// One mesh on the way.
struct LevelAnswer {
  Levels levels;
  int unknowns = 0;
  double drop = 0.0;   ///< m
  double change = 0.0; ///< m, from the mesh before; negative on the first
};

/// A whole check of the open door, on the finest mesh that was needed.
struct CheckRun {
  std::vector<LevelAnswer> levels;
  Levels compared_with{0, 0}; ///< the coarser mesh that tells errors by change; zero: none
  bool reached = false;       ///< the asked tolerance, by the drop and by what a verdict hangs on
  Mesh mesh;
  MeshQuality quality;
  Deflection deflection;             ///< open, cold or at the one temperature
  std::vector<Deflection> warm;      ///< with a fire: most bowed, chosen instants, hot and steady
  std::vector<ClosedDoor> closed;    ///< with gasket and latches: cold, like `warm`, cooled again
  std::vector<WarmPoint> curve;      ///< the warm-up
  std::vector<ShutInstant> shut_way; ///< closed at instants of the warm-up, as stiff as when cold
  WearCurve wear;                    ///< with a [use]; empty otherwise
  std::vector<std::vector<double>> fields; ///< degC at the nodes of mesh.door, per warm state
  std::vector<Finding> findings;
  std::vector<Answer> answers;     ///< all, with their mesh errors; empty with a single level
  Sureness sureness;               ///< with --spread; empty otherwise
  std::vector<std::string> advice; ///< for one closed door that fails a check: the best changes
};

/// Checks the door. The mesh is refined until what the cold drop misses by its dual is below the
/// asked share of its limit, in the hinges alone where all else misses little (`next_levels`); then
/// all other states are answered on that mesh and again, in part, on the last one that was coarser
/// in every part, for their errors (`answers_with_errors`). Where a verdict hangs in an error above
/// the asked share, everything is done once more on the next whole level, up to the finest allowed.
/// Throws ComputeError when no answer can be trusted, or before a mesh level that would not fit
/// into memory. `kept` carries factored bodies and heat from one door to the next, and no advice is
/// given then.
CheckRun check_door(const DoorCase& door_case, const Progress& progress,
                    FactoredBodies* kept = nullptr, const MemoryCare& care = {});

} // namespace hangtrue
