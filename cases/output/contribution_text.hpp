// The shares of an answer in words, in results and as a chart.
#pragma once

#include "cases/check/check_run.hpp"
#include "cases/input/door_case.hpp"
#include "viz/figures/figures.hpp"

#include <nlohmann/json_fwd.hpp>

#include <string>

namespace hangtrue
{

/// All shares of one answer, SI, with how exactly they add up.
nlohmann::ordered_json split_json(const ContributionSplit& split);

/// One line of what drives an answer, the greatest first: "heat of the inner skin 0.081 in, ...".
std::string split_line(const ContributionSplit& split, Units units);

/// Shares of the bow of every warm state, by what drives it.
Figure bow_shares_chart(const DoorCase& door_case, const CheckRun& run, const FigureSize& size);

/// Shares of the least squeeze of the gasket in every closed state, by what yields.
Figure squeeze_shares_chart(const DoorCase& door_case, const CheckRun& run, const FigureSize& size);

} // namespace hangtrue
