// Drops of several states or doors, stacked by their shares.
#pragma once

#include "solver/analysis/open_result.hpp"
#include "solver/qoi/drop_contributions.hpp"
#include "viz/figures/figures.hpp"
#include "viz/plots/bar_charts.hpp"

#include <string>
#include <vector>

namespace hangtrue
{

/// One drop with its shares; `budget` must outlive the call.
struct DropRow {
  std::string name;
  const std::vector<SagShare>* budget = nullptr;
  std::string total; ///< in words
};

/// Bars of all rows over the same parts: the five that matter most in any of them, and all the rest
/// as one, so that every bar adds up to its drop. Heading and limit are left to the caller.
StackedChart drop_shares(const std::vector<DropRow>& rows, const FigureWords& words);

} // namespace hangtrue
