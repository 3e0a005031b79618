// The contributions to a quantity of interest in words, in results and as a chart.
#pragma once

#include "cases/check/check_run.hpp"
#include "cases/input/door_case.hpp"
#include "viz/figures/figures.hpp"

#include <nlohmann/json_fwd.hpp>

#include <string>

namespace hangtrue
{

/// All contributions to one quantity, SI, with their closure error.
nlohmann::ordered_json split_json(const ContributionSplit& split);

/// One line of what drives a quantity, the greatest first: "heat of the inner skin 0.081 in, ...".
std::string split_line(const ContributionSplit& split, Units units);

/// Contributions to the bow of every thermal state, by what drives it.
Figure bow_shares_chart(const DoorCase& door_case, const CheckRun& run, const FigureSize& size);

/// Contributions to the least squeeze of the gasket in every closed state, by what yields.
Figure squeeze_shares_chart(const DoorCase& door_case, const CheckRun& run, const FigureSize& size);

} // namespace hangtrue
