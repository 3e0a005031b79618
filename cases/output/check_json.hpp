// Checks and readings as in results, SI.
#pragma once

#include "cases/check/check_run.hpp"
#include "cases/input/door_case.hpp"

#include <nlohmann/json_fwd.hpp>

namespace hangtrue
{

/// All checks.
nlohmann::ordered_json checks_json(const DoorCase& door_case, const CheckRun& run);

/// Quantities of the states besides the checks, with their discretization error: first all open
/// ones.
nlohmann::ordered_json readings_json(const DoorCase& door_case, const CheckRun& run);

/// Checks whose error is above the requested fraction of the limit.
nlohmann::ordered_json above_tolerance_json(const DoorCase& door_case, const CheckRun& run);

} // namespace hangtrue
