// The text of the sheet of a door.
#pragma once

#include "cases/check/check_run.hpp"
#include "cases/input/door_case.hpp"
#include "viz/sheet/report_sheet.hpp"

#include <string>

namespace hangtrue
{

/// Everything of the sheet but the figures and the title block's number, revision and date.
Sheet sheet_words(const DoorCase& door_case, const CheckRun& run);

} // namespace hangtrue
