// SPDX-License-Identifier: GPL-3.0-or-later
// Quantities of interest that only a hot door has: temperatures, stress of skins and rim, buckling,
// play that heat takes, bow.
#pragma once

#include "cases/input/door_case.hpp"
#include "cases/verdict/quantity_of_interest.hpp"
#include "solver/analysis/open_result.hpp"

#include <vector>

namespace hangtrue::verdict
{

/// Adds those that have a limit, of one hot state.
void add_thermal_checks(const input::DoorCase& door_case,
                        const analysis::OpenDoorResult& open_result,
                        std::vector<QuantityOfInterest>& all);

/// Adds how near skins are to buckling with clamped edges: shown beside the check with supported
/// ones.
void add_clamped_buckling(const analysis::OpenDoorResult& open_result,
                          std::vector<QuantityOfInterest>& all);

/// Adds what a straightedge, a tape and a thermometer read.
void add_thermal_readings(const analysis::OpenDoorResult& open_result,
                          std::vector<QuantityOfInterest>& all);

} // namespace hangtrue::verdict
