// SPDX-License-Identifier: GPL-3.0-or-later
// The contributions to a quantity of interest in words, in results and as a chart.
#pragma once

#include "cases/check/check_run.hpp"
#include "cases/input/door_case.hpp"
#include "viz/figures/figures.hpp"

#include <nlohmann/json_fwd.hpp>

#include <string>

namespace hangtrue::output
{

/// All contributions to one quantity, SI, with their closure error.
nlohmann::ordered_json contributions_json(const qoi::ContributionSplit& split);

/// One line of what drives a quantity, the greatest first: "heat of the inner skin 0.081 in, ...".
std::string contributions_line(const qoi::ContributionSplit& split, input::UnitSystem units);

/// Contributions to the bow of every thermal state, by what drives it.
figures::Figure bow_contribution_chart(const input::DoorCase& door_case, const check::CheckRun& run,
                                       const plots::FigureSize& size);

/// Contributions to the least squeeze of the gasket in every closed state, by what yields.
figures::Figure squeeze_contribution_chart(const input::DoorCase& door_case,
                                           const check::CheckRun& run,
                                           const plots::FigureSize& size);

} // namespace hangtrue::output
