// SPDX-License-Identifier: GPL-3.0-or-later
// The text of the sheet of a door.
#pragma once

#include "cases/check/check_run.hpp"
#include "cases/input/door_case.hpp"
#include "viz/sheet/report_sheet.hpp"

#include <string>

namespace hangtrue::case_figures
{

/// Everything of the sheet but the figures and the title block's number, revision and date.
sheet::Sheet sheet_text(const input::DoorCase& door_case, const check::CheckRun& run);

} // namespace hangtrue::case_figures
