// How sure the answers are: ranges by slopes and bands, and what they do to the verdicts.
#pragma once

#include "cases/check/check_door.hpp"

#include <nlohmann/json_fwd.hpp>

#include <string>

namespace hangtrue
{

/// Adds slopes and ranges of drop, bow and least squeeze in every state to a finished check, on the
/// coarsest mesh, and the likely range to the findings on drop and least load of the gasket: one
/// that holds but whose range crosses its limit becomes close; one that fails stays. A gasket that
/// has cooled again is left out: what it has set to hangs on all states before. Throws ComputeError
/// like the check.
void add_spread(const DoorCase& door_case, const Progress& progress, CheckRun& run);

/// The ranges for a terminal, each with its main reasons.
std::string spread_text(const Sureness& sureness, Units units);

/// Bands, ranges and slopes, SI.
nlohmann::ordered_json spread_json(const Sureness& sureness);

} // namespace hangtrue
