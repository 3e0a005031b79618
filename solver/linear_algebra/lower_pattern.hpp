// SPDX-License-Identifier: GPL-3.0-or-later
// Which entries of a symmetric sparse matrix there are, those of its lower triangle.
#pragma once

#include <array>
#include <vector>

namespace hangtrue::linear_algebra
{

/// By columns: column `a` has rows `row[k]` >= a, rising, for k from `start[a]` to `start[a + 1]`.
struct LowerPattern {
  std::vector<int> start;
  std::vector<int> row;
};

/// Pattern of a matrix whose cells couple the listed nodes with each other.
LowerPattern lower_pattern(int nodes, const std::vector<std::array<int, 27>>& cells);

/// Place k of (row, column), row >= column, which must be there.
int position_in(const std::vector<int>& start, const std::vector<int>& rows, int row, int column);

} // namespace hangtrue::linear_algebra
