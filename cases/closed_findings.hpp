// Checks on the closed door: gasket, latches, reveal.
#pragma once

#include "cases/findings.hpp"
#include "solver/closed_door.hpp"

#include <vector>

namespace hangtrue
{

/// All checks on one closed state.
std::vector<Finding> judge_closed(const DoorCase& door_case, const ClosedDoor& closed);

} // namespace hangtrue
