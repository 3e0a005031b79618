// SPDX-License-Identifier: GPL-3.0-or-later
#include "cases/figures/drop_contribution_chart.hpp"

#include <algorithm>
#include <cmath>
#include <map>
#include <utility>

namespace hangtrue::case_figures
{

namespace
{

// The largest contributions of any row, by name, at most `maximum` of them.
std::vector<std::string> main_parts(const std::vector<DropRow>& rows, std::size_t maximum)
{
  std::map<std::string, double> largest;
  for (const auto& row : rows)
    for (const auto& share : row.contributions) {
      double& l = largest[share.part];
      l = std::max(l, std::abs(share.value));
    }
  std::vector<std::pair<double, std::string>> sorted;
  for (const auto& [part, drop] : largest)
    sorted.emplace_back(-drop, part);
  std::sort(sorted.begin(), sorted.end());
  std::vector<std::string> parts;
  for (const auto& [drop, part] : sorted)
    if (parts.size() < maximum)
      parts.push_back(part);
  return parts;
}

} // namespace

std::vector<NamedContribution> named(const std::vector<qoi::Contribution>& contributions)
{
  std::vector<NamedContribution> all;
  for (const auto& one : contributions)
    all.push_back({qoi::contribution_label(one), one.value});
  return all;
}

plots::StackedChart drop_contribution_chart(const std::vector<DropRow>& rows,
                                            const figures::UnitFormatter& words)
{
  plots::StackedChart chart;
  chart.axis = "drop, " + words.length_unit;
  constexpr std::size_t maximum = 5;
  chart.parts = main_parts(rows, maximum);
  const std::size_t named = chart.parts.size();
  chart.parts.emplace_back("all the rest");
  for (const auto& row : rows) {
    plots::StackedBar bar{row.name, std::vector<double>(named + 1), row.total, "", 0};
    for (const auto& share : row.contributions) {
      const auto found = std::find(chart.parts.begin(), chart.parts.end() - 1, share.part);
      bar.parts[found - chart.parts.begin()] += words.length_number(share.value);
    }
    chart.bars.push_back(bar);
  }
  return chart;
}

} // namespace hangtrue::case_figures
