// The states of a check in its fire: open and closed, and the same on the level before.
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

namespace hangtrue
{

/// Data that all states of one check share.
struct StatesWork {
  const DoorCase& door_case;
  LevelBefore& before;
  const Progress& progress;
  AnalysisCache& parts;
  CheckRun& run;
};

/// The closed states of a check: the mesh of the closed door, the heat of each, and the closed door
/// in it.
struct Closed {
  std::shared_ptr<const KeptMesh> shut; // doors point at it
  std::vector<Latch> places;            // of latches, those of changes among them
  std::vector<Touch> touches;           // of the cold one
  std::unique_ptr<ShutDoor> cold; // serves the first state, the choice of instants and the last
  std::vector<WarmDoor> warm;
  std::unique_ptr<WarmDoor> loosest;           // where none of them is
  std::vector<std::unique_ptr<TrialDoor>> hot; // in the order of the check
};

/// The door closed in one state, after the others where it has cooled.
ClosedDoor close_in(const DoorCase& door_case, ShutDoor& shut, const ThermalStateId& thermal,
                    const std::vector<const ClosedDoor*>& after);

/// A warm state open and, where it can be shut, closed.
struct WarmAnswer {
  Deflection open;
  std::optional<ClosedDoor> closed;
  std::unique_ptr<TrialDoor> shut;
};

/// The states of a firing on their way.
struct WarmStates {
  Firing firing;
  Closed* closed = nullptr;        ///< null where the door cannot be shut
  std::vector<WarmAnswer> answers; ///< of the states of the firing
  std::optional<WarmAnswer> loosest;
  std::vector<StateBefore> before; ///< on the level before
};

/// The tasks by which all of these are answered on the mesh of the cold door and, where there is
/// one, on the level before; they leave the results in the check in its order. The firing and the
/// cold closed door must be there; both arguments must outlive the tasks, which throw ComputeError
/// like the states.
std::vector<Task> warm_tasks(const StatesWork& work, WarmStates& states);

} // namespace hangtrue
