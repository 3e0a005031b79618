// SPDX-License-Identifier: GPL-3.0-or-later
// Checks and readings as in results, SI.
#pragma once

#include "cases/check/check_run.hpp"
#include "cases/input/door_case.hpp"

#include <nlohmann/json_fwd.hpp>

namespace hangtrue::output
{

/// All checks.
nlohmann::ordered_json checks_json(const input::DoorCase& door_case, const check::CheckRun& run);

/// Quantities of the states besides the checks, with their discretization error: first all open
/// ones.
nlohmann::ordered_json readings_json(const input::DoorCase& door_case, const check::CheckRun& run);

/// Checks whose error is above the requested fraction of the limit.
nlohmann::ordered_json above_tolerance_json(const input::DoorCase& door_case,
                                            const check::CheckRun& run);

} // namespace hangtrue::output
