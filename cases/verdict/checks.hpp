// SPDX-License-Identifier: GPL-3.0-or-later
// Checks, evaluated once from quantities of interest with their limits, errors and ranges.
#pragma once

#include "cases/input/door_case.hpp"
#include "cases/verdict/check_result.hpp"
#include "cases/verdict/quantity_of_interest.hpp"

#include <vector>

namespace hangtrue::verdict
{

/// A check of every quantity that has a limit, in their order.
std::vector<CheckResult> evaluate_checks(const input::DoorCase& door_case,
                                         const std::vector<QuantityOfInterest>& quantities);

} // namespace hangtrue::verdict
