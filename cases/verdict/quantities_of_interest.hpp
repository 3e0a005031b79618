// SPDX-License-Identifier: GPL-3.0-or-later
// Quantities of interest of the open door.
#pragma once

#include "cases/input/door_case.hpp"
#include "cases/verdict/quantity_of_interest.hpp"
#include "solver/analysis/open_result.hpp"
#include "solver/analysis/wear_analysis.hpp"

#include <vector>

namespace hangtrue::verdict
{

/// All quantities of one open state, without their errors: those with limits, and the readings of
/// straightedge, thermometer and hinges besides.
std::vector<QuantityOfInterest> quantities_of(const input::DoorCase& door_case,
                                              const analysis::OpenDoorResult& open_result);

/// The drop after the years of use, with `drop_error`, m, and the width of its range as error.
QuantityOfInterest drop_after_years(const input::DoorCase& door_case,
                                    const analysis::OpenDoorResult& open_result,
                                    const analysis::WearCurve& wear, double drop_error);

} // namespace hangtrue::verdict
