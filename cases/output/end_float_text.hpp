// SPDX-License-Identifier: GPL-3.0-or-later
// End float of every hinge in every state, as lines of the report and as a figure.
#pragma once

#include "cases/check/check_run.hpp"
#include "cases/input/door_case.hpp"
#include "viz/figures/figures.hpp"

#include <string>

namespace hangtrue::output
{

/// A line per hinge and state: end float nominal and needed, free under and over the door, forces.
std::string end_float_table(const input::DoorCase& door_case, const check::CheckRun& run);

/// Use of the end float, a bar per hinge and state.
figures::Figure end_float_chart(const input::DoorCase& door_case, const check::CheckRun& run,
                                const plots::FigureSize& size);

} // namespace hangtrue::output
