// SPDX-License-Identifier: GPL-3.0-or-later
// Quantities of interest of the closed door: gasket, latches, reveal, hinges.
#pragma once

#include "cases/input/door_case.hpp"
#include "cases/verdict/quantity_of_interest.hpp"
#include "solver/analysis/closed_result.hpp"

#include <vector>

namespace hangtrue::verdict
{

/// The door of a case, closed: no swing, so the frame's directions are the door's.
door::Door as_closed(const input::DoorCase& door_case);

/// All of one closed state, their errors left open.
std::vector<QuantityOfInterest> quantities_of(const input::DoorCase& door_case,
                                              const analysis::ClosedDoorResult& closed);

} // namespace hangtrue::verdict
