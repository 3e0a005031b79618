// The states of a check besides the open cold door: closed, warm, and the level before.
#pragma once

#include "cases/check/check_run.hpp"
#include "cases/input/door_case.hpp"
#include "cases/verdict/discretization_error.hpp"
#include "meshing/common/progress.hpp"
#include "solver/analysis/closed_analysis.hpp"
#include "solver/analysis/closed_result.hpp"
#include "solver/firing/critical_instant.hpp"
#include "solver/heat/thermal_state.hpp"

#include <memory>
#include <string>
#include <vector>

namespace hangtrue
{

/// What all states of one check share.
struct StatesWork {
  const DoorCase& door_case;
  LevelBefore& before;
  bool alone = false; ///< nobody else uses the parts: two threads may
  const Progress& progress;
  AnalysisCache& parts;
  CheckRun& run;
};

/// The closed states on their way: the shut mesh, the heat of each, and the door standing shut in
/// it.
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

/// The firing on the mesh of the cold door, open and closed, and beside it the level before.
/// `closed` is null where the door cannot be shut. Throws ComputeError like the
/// states.
std::vector<StateBefore> add_warm_states(const StatesWork& work, Firing firing, Closed* closed);

} // namespace hangtrue
