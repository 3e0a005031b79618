// SPDX-License-Identifier: GPL-3.0-or-later
// Thermal states of a check: open and closed, and the same on the coarser mesh.
#pragma once

#include "cases/check/check_run.hpp"
#include "cases/input/door_case.hpp"
#include "cases/runtime/schedule.hpp"
#include "cases/verdict/discretization_error.hpp"
#include "meshing/common/progress.hpp"
#include "solver/analysis/analysis_cache.hpp"
#include "solver/analysis/closed_analysis.hpp"
#include "solver/analysis/closed_result.hpp"
#include "solver/firing/critical_instant.hpp"
#include "solver/heat/thermal_state.hpp"

#include <memory>
#include <optional>
#include <vector>

namespace hangtrue::check
{

/// Data that all states of one check share.
struct StatesContext {
  const input::DoorCase& door_case;
  verdict::CoarseSolution& coarse;
  const Progress& progress;
  analysis::AnalysisCache& cache;
  CheckRun& run;
};

/// The closed states of a check: the mesh of the closed door, the heat of each, and the closed door
/// in it.
struct ClosedStates {
  std::shared_ptr<const quality::CachedMesh> mesh;     // doors point at it
  std::vector<door::Latch> latch_positions;            // of latches, those of changes among them
  std::vector<contact::ActiveContact> active_contacts; // of the cold one
  std::unique_ptr<analysis::ClosedDoorAnalysis>
      cold; // serves the first state, the choice of instants and the last
  std::vector<heat::ThermalState> thermal_states;
  std::unique_ptr<heat::ThermalState> loosest;                 // where none of them is
  std::vector<std::unique_ptr<analysis::ClosedDoorTrial>> hot; // in the order of the check
};

/// The door closed in one state, after the others where it has cooled.
analysis::ClosedDoorResult
solve_closed_state(const input::DoorCase& door_case, analysis::ClosedDoorAnalysis& closed_door,
                   const heat::ThermalStateId& thermal,
                   const std::vector<const analysis::ClosedDoorResult*>& after);

/// A thermal state open and, where the door can be closed, closed.
struct ThermalStateResult {
  analysis::OpenDoorResult open;
  std::optional<analysis::ClosedDoorResult> closed;
  std::unique_ptr<analysis::ClosedDoorTrial> closed_trial;
};

/// The thermal states of a firing while they are solved.
struct ThermalStatesRun {
  firing::ThermalLoadCases load_cases;
  ClosedStates* closed = nullptr;          ///< null where the door cannot be closed
  std::vector<ThermalStateResult> results; ///< of the states of the firing
  std::optional<ThermalStateResult> loosest;
  std::vector<verdict::CoarseState> coarse; ///< on the coarser mesh
};

/// The tasks that solve all of these on the mesh of the cold door and, where there is one, on the
/// coarser mesh; they store the results in the order of the check. The load cases and the cold
/// closed door must exist; both arguments must outlive the tasks, which throw ComputeError like the
/// states.
std::vector<runtime::Task> thermal_tasks(const StatesContext& work, ThermalStatesRun& states);

} // namespace hangtrue::check
