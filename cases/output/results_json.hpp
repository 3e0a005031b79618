// SPDX-License-Identifier: GPL-3.0-or-later
// results.json: all results of a check, in SI, with units in the key names.
#pragma once

#include "cases/check/check_run.hpp"
#include "cases/input/door_case.hpp"

#include <string>

namespace hangtrue::output
{

/// The text of results.json, the same bytes for the same door; docs/results.md describes it.
std::string results_json(const input::DoorCase& door_case, const check::CheckRun& run);

} // namespace hangtrue::output
