// SPDX-License-Identifier: GPL-3.0-or-later
#include "solver/linear_algebra/lower_pattern.hpp"

#include <algorithm>

namespace hangtrue::linear_algebra
{

LowerPattern lower_pattern(int nodes, const std::vector<std::array<int, 27>>& cells)
{
  std::vector<std::vector<int>> below(nodes);
  for (const auto& cell : cells)
    for (const int a : cell)
      for (const int b : cell)
        if (b >= a)
          below[a].push_back(b);
  LowerPattern pattern;
  pattern.start.push_back(0);
  for (auto& column : below) {
    std::sort(column.begin(), column.end());
    column.erase(std::unique(column.begin(), column.end()), column.end());
    pattern.row.insert(pattern.row.end(), column.begin(), column.end());
    pattern.start.push_back(static_cast<int>(pattern.row.size()));
    column = {};
  }
  return pattern;
}

int position_in(const std::vector<int>& start, const std::vector<int>& rows, int row, int column)
{
  const auto first = rows.begin() + start[column];
  const auto last = rows.begin() + start[column + 1];
  return static_cast<int>(std::lower_bound(first, last, row) - rows.begin());
}

} // namespace hangtrue::linear_algebra
