// The report for the terminal, in the user's units.
#pragma once

#include "cases/check/check_run.hpp"
#include "cases/input/door_case.hpp"

#include <string>

namespace hangtrue
{

/// A readable table, at most 100 columns wide.
std::string answer_table(const DoorCase& door_case, const CheckRun& run);

} // namespace hangtrue
