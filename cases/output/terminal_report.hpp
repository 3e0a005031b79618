// SPDX-License-Identifier: GPL-3.0-or-later
// The report for the terminal, in the user's units.
#pragma once

#include "cases/check/check_run.hpp"
#include "cases/input/door_case.hpp"

#include <string>

namespace hangtrue::output
{

/// A readable table, at most 100 columns wide.
std::string terminal_report(const input::DoorCase& door_case, const check::CheckRun& run);

} // namespace hangtrue::output
