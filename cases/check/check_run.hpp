// SPDX-License-Identifier: GPL-3.0-or-later
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

namespace hangtrue::check
{

/// One mesh of the refinement.
struct RefinementStep {
  door::RefinementLevel level;
  int unknowns = 0;
  double drop = 0.0;              ///< m
  std::optional<double> change{}; ///< m, from the mesh before
  double drop_error = 0.0;        ///< m, estimated error of the drop on this mesh
};

/// A whole check of the open door, on the finest mesh that was needed.
struct CheckRun {
  std::vector<RefinementStep> steps;
  std::optional<door::RefinementLevel> compared_with{}; ///< the coarser mesh for errors by change
  bool reached = false; ///< the requested tolerance, by the drop and by undecided verdicts
  mesh::Mesh mesh;
  quality::MeshQuality quality;
  analysis::OpenDoorResult open_cold; ///< open, cold or at the one temperature
  std::vector<analysis::OpenDoorResult>
      open_thermal; ///< with a fire: most bowed, chosen instants, hot and steady
  std::vector<analysis::ClosedDoorResult>
      closed; ///< with gasket and latches: cold, like `open_thermal`, cooled again
  std::vector<firing::HeatingCurvePoint> curve; ///< the warm-up
  std::vector<analysis::ClosedDoorSample>
      closed_history;       ///< closed at instants of the warm-up, with cold stiffness
  analysis::WearCurve wear; ///< with a [use]; empty otherwise
  std::vector<std::vector<double>> fields; ///< degC at the nodes of mesh.door, per thermal state
  std::vector<verdict::QuantityOfInterest>
      quantities;                           ///< of all states, with what is known of their errors
  std::vector<verdict::CheckResult> checks; ///< made of them, in their order
  UncertaintyResult uncertainty;            ///< with --spread; empty otherwise
  std::vector<std::string> remedies; ///< for one closed door that fails a check: the best changes
};

} // namespace hangtrue::check
