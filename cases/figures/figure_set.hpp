// SPDX-License-Identifier: GPL-3.0-or-later
// The list of figures of a door, and all of them drawn from one check.
#pragma once

#include "cases/check/check_run.hpp"
#include "cases/input/door_case.hpp"
#include "meshing/common/progress.hpp"
#include "viz/figures/figures.hpp"

#include <string>
#include <vector>

namespace hangtrue::case_figures
{

/// Names of all figures of a door, in their order on the sheet. Those of a fire,
/// of the closed door and of wear are there when the door file has them.
std::vector<std::string> figure_names(const input::DoorCase& door_case);

/// Figures, and what prevented others, in the user's words (empty when nothing did).
struct FigureSet {
  std::vector<figures::Figure> figures;
  std::string trouble;
};

/// Draws the figures of these names from a finished check. Pictures of the door need a display;
/// where there is none the others are drawn and `trouble` says what to install.
FigureSet make_figures(const input::DoorCase& door_case, const check::CheckRun& run,
                       const std::vector<std::string>& names, const figures::FigureOptions& form,
                       const Progress& progress);

} // namespace hangtrue::case_figures
