// Checks on the closed door: gasket, latches, reveal, hinges.
#pragma once

#include "cases/verdict/check_result.hpp"
#include "cases/verdict/checks.hpp"
#include "solver/analysis/closed_analysis.hpp"
#include "solver/analysis/closed_result.hpp"

#include <vector>

namespace hangtrue
{

/// The door of a case as it stands shut: no swing, so the frame's directions are the door's.
Door standing_shut(const DoorCase& door_case);

/// What the hinges of a closed door carry; `shut_door` is `standing_shut`.
HingesAt hinges_at(const Door& shut_door, const ClosedDoor& closed);

/// All checks on one closed state.
std::vector<Finding> judge_closed(const DoorCase& door_case, const ClosedDoor& closed);

} // namespace hangtrue
