// The results of a check of a door, mesh by mesh and state by state.
#pragma once

#include "cases/check/uncertainty_result.hpp"
#include "cases/verdict/check_result.hpp"
#include "cases/verdict/quantity_of_interest.hpp"
#include "meshing/door/mesh_density.hpp"
#include "meshing/mesh/mesh.hpp"
#include "meshing/quality/mesh_quality.hpp"
#include "solver/analysis/closed_analysis.hpp"
#include "solver/analysis/closed_result.hpp"
#include "solver/analysis/open_result.hpp"
#include "solver/analysis/wear_analysis.hpp"
#include "solver/firing/critical_instant.hpp"

#include <optional>
#include <string>
#include <vector>

namespace hangtrue
{

/// One mesh of the refinement.
struct LevelAnswer {
  Levels levels;
  int unknowns = 0;
  double drop = 0.0;              ///< m
  std::optional<double> change{}; ///< m, from the mesh before
  double drop_error = 0.0;        ///< m, estimated error of the drop on this mesh
};

/// A whole check of the open door, on the finest mesh that was needed.
struct CheckRun {
  std::vector<LevelAnswer> levels;
  std::optional<Levels> compared_with{}; ///< the coarser mesh for errors by change
  bool reached = false; ///< the requested tolerance, by the drop and by undecided verdicts
  Mesh mesh;
  MeshQuality quality;
  Deflection deflection;             ///< open, cold or at the one temperature
  std::vector<Deflection> warm;      ///< with a fire: most bowed, chosen instants, hot and steady
  std::vector<ClosedDoor> closed;    ///< with gasket and latches: cold, like `warm`, cooled again
  std::vector<WarmPoint> curve;      ///< the warm-up
  std::vector<ShutInstant> shut_way; ///< closed at instants of the warm-up, with cold stiffness
  WearCurve wear;                    ///< with a [use]; empty otherwise
  std::vector<std::vector<double>> fields;    ///< degC at the nodes of mesh.door, per thermal state
  std::vector<QuantityOfInterest> quantities; ///< of all states, with what is known of their errors
  std::vector<CheckResult> checks;            ///< made of them, in their order
  Sureness sureness;                          ///< with --spread; empty otherwise
  std::vector<std::string> advice; ///< for one closed door that fails a check: the best changes
};

} // namespace hangtrue
