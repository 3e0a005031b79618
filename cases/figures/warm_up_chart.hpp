// SPDX-License-Identifier: GPL-3.0-or-later
// Chart of the warm-up: skins, bow, gasket and latches over time.
#pragma once

#include "cases/check/check_run.hpp"
#include "cases/input/door_case.hpp"
#include "viz/figures/figures.hpp"

namespace hangtrue::case_figures
{

/// Temperatures and bow over time; for a door with gasket and latches also its least squeeze and
/// the forces of the latches, in panels below each other. With four panels the figure is higher
/// than requested unless the form fixes its height.
figures::Figure warm_up_chart(const input::DoorCase& door_case, const check::CheckRun& run,
                              const figures::FigureOptions& form);

} // namespace hangtrue::case_figures
