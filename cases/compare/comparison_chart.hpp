// SPDX-License-Identifier: GPL-3.0-or-later
// A comparison as a chart: the drop of every variant, stacked by its contributions.
#pragma once

#include "cases/compare/comparison_table.hpp"
#include "viz/figures/figures.hpp"

namespace hangtrue::compare
{

/// Bars of all variants that have a result, in the order of the plan, with the limit of the drop,
/// the verdict of all checks in words, and the lightest and the cheapest that hold marked. When not
/// all fit on a sheet those with the least drop are drawn; the figure says so.
figures::Figure comparison_chart(const Comparison& comparison);

} // namespace hangtrue::compare
