// Checks and readings as they stand in results, SI.
#pragma once

#include "cases/check/check_run.hpp"
#include "cases/input/door_case.hpp"

#include <nlohmann/json_fwd.hpp>

namespace hangtrue
{

/// All checks.
nlohmann::ordered_json checks_json(const DoorCase& door_case, const CheckRun& run);

/// What the states answer besides the checks, with its mesh error: first all open ones.
nlohmann::ordered_json readings_json(const DoorCase& door_case, const CheckRun& run);

/// Checks whose error is above the asked share of the limit.
nlohmann::ordered_json above_tolerance_json(const DoorCase& door_case, const CheckRun& run);

} // namespace hangtrue
