// Quantities of interest of the open door.
#pragma once

#include "cases/input/door_case.hpp"
#include "cases/verdict/quantity_of_interest.hpp"
#include "solver/analysis/open_result.hpp"
#include "solver/analysis/wear_analysis.hpp"

#include <vector>

namespace hangtrue
{

/// All quantities of one open state, without their errors: those with limits, and the readings of
/// straightedge, thermometer and hinges besides.
std::vector<QuantityOfInterest> quantities_of(const DoorCase& door_case,
                                              const Deflection& deflection);

/// The drop after the years of use, with `drop_error`, m, and the width of its range as error.
QuantityOfInterest drop_after_years(const DoorCase& door_case, const Deflection& deflection,
                                    const WearCurve& wear, double drop_error);

} // namespace hangtrue
