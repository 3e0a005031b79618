// Quantities of interest of the closed door: gasket, latches, reveal, hinges.
#pragma once

#include "cases/input/door_case.hpp"
#include "cases/verdict/quantity_of_interest.hpp"
#include "solver/analysis/closed_result.hpp"

#include <vector>

namespace hangtrue
{

/// The door of a case, closed: no swing, so the frame's directions are the door's.
Door standing_shut(const DoorCase& door_case);

/// All of one closed state, their errors left open.
std::vector<QuantityOfInterest> quantities_of(const DoorCase& door_case, const ClosedDoor& closed);

} // namespace hangtrue
