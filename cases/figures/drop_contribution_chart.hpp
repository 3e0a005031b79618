// SPDX-License-Identifier: GPL-3.0-or-later
// Drops of several states or doors, stacked by their contributions.
#pragma once

#include "solver/qoi/contribution.hpp"
#include "viz/figures/figures.hpp"
#include "viz/plots/bar_charts.hpp"

#include <string>
#include <vector>

namespace hangtrue::case_figures
{

/// One contribution by its label.
struct NamedContribution {
  std::string part;
  double value = 0.0; ///< m
};

/// The same with their labels.
std::vector<NamedContribution> named(const std::vector<qoi::Contribution>& contributions);

/// One drop with its contributions.
struct DropRow {
  std::string name;
  std::vector<NamedContribution> contributions;
  std::string total; ///< in words
};

/// Bars of all rows over the same contributions: the five largest of any row, and all the rest as
/// one, so that every bar adds up to its drop. Heading and limit are left to the caller.
plots::StackedChart drop_contribution_chart(const std::vector<DropRow>& rows,
                                            const figures::UnitFormatter& words);

} // namespace hangtrue::case_figures
