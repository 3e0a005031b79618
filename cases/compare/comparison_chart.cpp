// SPDX-License-Identifier: GPL-3.0-or-later
#include "cases/compare/comparison_chart.hpp"

#include "cases/figures/drop_contribution_chart.hpp"
#include "cases/output/unit_formatter.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

namespace hangtrue::compare
{

namespace
{

constexpr std::size_t max_rows = 22; // of 8 mm on a sheet

bool has_drop(const VariantResult& row)
{
  return !row.shares.empty() &&
         (row.state == VariantState::holds || row.state == VariantState::close ||
          row.state == VariantState::fails);
}

// Rows to draw: all, or those with the least drop and the marked ones; in the order of the plan.
std::vector<int> rows_to_draw(const std::vector<VariantResult>& rows, const BestVariants& best)
{
  std::vector<int> drawn;
  for (std::size_t r = 0; r < rows.size(); ++r)
    if (has_drop(rows[r]))
      drawn.push_back(static_cast<int>(r));
  const auto rank = [&](int r) {
    return r == best.lightest || r == best.cheapest ? -1.0 : std::abs(rows[r].drop);
  };
  std::stable_sort(drawn.begin(), drawn.end(), [&](int a, int b) { return rank(a) < rank(b); });
  drawn.resize(std::min(drawn.size(), max_rows));
  std::sort(drawn.begin(), drawn.end());
  return drawn;
}

std::string verdict_of(const Comparison& c, const BestVariants& best, int r)
{
  std::string words = state_text(c.rows[r].state);
  if (r == best.cheapest)
    words += r == best.lightest ? ", cheapest and lightest" : ", cheapest";
  else if (r == best.lightest)
    words += ", lightest";
  return words;
}

// The limit of the drop, m, where all plotted variants have the same; else nothing.
std::optional<double> common_limit(const Comparison& c, const std::vector<int>& drawn)
{
  const double first = c.rows[drawn.front()].drop_limit;
  const bool same = std::all_of(drawn.begin(), drawn.end(), [&](int r) {
    return std::abs(c.rows[r].drop_limit - first) < 1e-12;
  });
  return same && first > 0.0 ? std::optional<double>(first) : std::nullopt;
}

std::string caption_of(const Comparison& c, const std::vector<int>& drawn, const BestVariants& best)
{
  std::string text =
      "Drop of every variant, open and cold, by its shares (unit-load theorem): they add up to the "
      "drop, shares left of zero lift. The word at the end is the verdict of all checks, not of "
      "the drop alone.";
  if (best.lightest < 0)
    text += " No variant holds every check.";
  else
    text += fmt::format(" Lightest{}: of those that hold every check.",
                        best.cheapest >= 0 ? " and cheapest" : "");
  if (drawn.size() < c.rows.size())
    text += fmt::format(" {} of {} variants are drawn.", drawn.size(), c.rows.size());
  return text;
}

} // namespace

figures::Figure comparison_chart(const Comparison& c)
{
  const figures::UnitFormatter words = output::unit_formatter(c.units);
  const BestVariants best = best_variants(c.rows);
  const std::vector<int> drawn = rows_to_draw(c.rows, best);
  std::vector<case_figures::DropRow> rows;
  for (const int r : drawn)
    rows.push_back({fmt::format("{}: {}", c.variants[r].number, key_values_text(c.variants[r])),
                    c.rows[r].shares, words.length(c.rows[r].drop)});
  plots::StackedChart chart = case_figures::drop_contribution_chart(rows, words);
  chart.heading = {"What makes the variants drop",
                   drawn.size() < c.rows.size()
                       ? fmt::format("{}; {} of {} variants", c.door, drawn.size(), c.rows.size())
                       : c.door};
  for (std::size_t i = 0; i < drawn.size(); ++i) {
    const VariantState state = c.rows[drawn[i]].state;
    chart.bars[i].verdict = verdict_of(c, best, drawn[i]);
    chart.bars[i].rank = state == VariantState::holds ? 0 : state == VariantState::close ? 1 : 2;
  }
  if (const auto limit = drawn.empty() ? std::nullopt : common_limit(c, drawn)) {
    chart.limit = words.length_number(*limit);
    chart.limit_words = "limit " + words.length(*limit);
  }
  const double high = 56.0 + std::max(9.0 * static_cast<double>(drawn.size()), 20.0);
  return {"drop-shares", plots::stacked_chart(chart, {180.0, high}), caption_of(c, drawn, best)};
}

} // namespace hangtrue::compare
