// SPDX-License-Identifier: GPL-3.0-or-later
#include "cases/output/contribution_text.hpp"

#include "cases/input/units.hpp"
#include "cases/output/unit_formatter.hpp"
#include "cases/verdict/quantity_table.hpp"

#include <fmt/format.h>
#include <nlohmann/json.hpp>

#include <algorithm>
#include <cmath>
#include <map>
#include <utility>
#include <vector>

namespace hangtrue::output
{

namespace
{

using Json = nlohmann::ordered_json;

const char* cause_word(qoi::ContributionSource cause)
{
  switch (cause) {
  case qoi::ContributionSource::nominal:
    return "drawn";
  case qoi::ContributionSource::play:
    return "play";
  case qoi::ContributionSource::compliance:
    return "give";
  case qoi::ContributionSource::bending:
    return "bending";
  case qoi::ContributionSource::heat:
    return "heat";
  case qoi::ContributionSource::load:
    return "load";
  }
  return "";
}

Json shares_json(const std::vector<qoi::Contribution>& shares)
{
  Json list = Json::array();
  for (const auto& s : shares)
    list.push_back({{"part", qoi::contribution_label(s)},
                    {"cause", cause_word(s.source)},
                    {"value_m", s.value}});
  return list;
}

std::vector<qoi::Contribution> greatest_first(std::vector<qoi::Contribution> shares)
{
  std::stable_sort(shares.begin(), shares.end(),
                   [](const qoi::Contribution& a, const qoi::Contribution& b) {
                     return std::abs(a.value) > std::abs(b.value);
                   });
  return shares;
}

// One bar per state.
struct SplitBar {
  std::string state;
  double whole = 0.0; // m
  const std::vector<qoi::Contribution>* shares = nullptr;
};

// Names of the contributions that are largest in any state.
std::vector<std::string> main_names(const std::vector<SplitBar>& bars)
{
  constexpr std::size_t maximum = 6; // as many as the key can distinguish
  std::map<std::string, double> largest;
  for (const auto& bar : bars)
    for (const auto& share : *bar.shares) {
      double& l = largest[qoi::contribution_label(share)];
      l = std::max(l, std::abs(share.value));
    }
  std::vector<std::pair<double, std::string>> sorted;
  for (const auto& [part, value] : largest)
    sorted.emplace_back(-value, part);
  std::sort(sorted.begin(), sorted.end());
  std::vector<std::string> names;
  for (const auto& [value, part] : sorted)
    if (names.size() < maximum)
      names.push_back(part);
  return names;
}

page::Page bars_page(const plots::Heading& heading, const std::string& axis,
                     const std::vector<SplitBar>& bars, const figures::UnitFormatter& words,
                     const plots::FigureSize& size)
{
  plots::StackedChart chart;
  chart.heading = heading;
  chart.axis = axis + ", " + words.length_unit;
  chart.parts = main_names(bars);
  const std::size_t named = chart.parts.size();
  chart.parts.emplace_back("all the rest");
  for (const auto& bar : bars) {
    plots::StackedBar drawn{
        bar.state, std::vector<double>(named + 1), words.length(bar.whole), {}, 0};
    for (const auto& share : *bar.shares) {
      const auto found =
          std::find(chart.parts.begin(), chart.parts.end() - 1, qoi::contribution_label(share));
      drawn.parts[found - chart.parts.begin()] += words.length_number(share.value);
    }
    chart.bars.push_back(drawn);
  }
  const double high = std::min(size.height, 56.0 + 18.0 * static_cast<double>(bars.size()));
  return plots::stacked_chart(chart, {size.width, high});
}

} // namespace

Json contributions_json(const qoi::ContributionSplit& split)
{
  return {{"answer", verdict::goal_label(split.quantity)},
          {"whole_m", split.whole},
          {"place_m", {split.place.x, split.place.y, split.place.z}},
          {"by_part", shares_json(split.by_part)},
          {"by_cause", shares_json(split.by_cause)},
          {"sums_miss_by_m", split.closure_error}};
}

std::string contributions_line(const qoi::ContributionSplit& split, input::UnitSystem units)
{
  constexpr std::size_t maximum = 4;
  std::string line;
  double rest = split.whole;
  std::size_t reported = 0;
  for (const auto& share : greatest_first(split.by_cause)) {
    if (reported++ == maximum)
      break;
    line += fmt::format("{} {}, ", qoi::contribution_label(share),
                        input::format_short(share.value, input::Dimension::length, units));
    rest -= share.value;
  }
  return line + "all the rest " + input::format_short(rest, input::Dimension::length, units);
}

figures::Figure bow_contribution_chart(const input::DoorCase& c, const check::CheckRun& run,
                                       const plots::FigureSize& size)
{
  std::vector<SplitBar> bars;
  for (const auto& d : run.open_thermal)
    if (const qoi::ContributionSplit* split = qoi::find_split(d.splits, qoi::Quantity::bow))
      bars.push_back({system::state_label(d.state), split->whole, &split->by_cause});
  figures::Figure figure{
      "bow-shares",
      bars_page({"What makes the warm door bow", c.door.name + "; middle of the outer skin against "
                                                               "its corners, + is outwards"},
                "bow", bars, unit_formatter(c.units), size),
      ""};
  figure.caption = "Shares of the bow by what drives it: heat of every part, weight, play. They "
                   "add up to the bow at the end of the bar; shares of other sign straighten the "
                   "door again.";
  return figure;
}

figures::Figure squeeze_contribution_chart(const input::DoorCase& c, const check::CheckRun& run,
                                           const plots::FigureSize& size)
{
  std::vector<SplitBar> bars;
  for (const auto& d : run.closed)
    if (d.split)
      bars.push_back({system::state_label(d.state), d.split->whole, &d.split->by_part});
  figures::Figure figure{
      "squeeze-shares",
      bars_page({"What leaves the least squeeze", c.door.name + "; where the gasket is squeezed "
                                                                "least"},
                "squeeze", bars, unit_formatter(c.units), size),
      ""};
  figure.caption = "Shares of the squeeze of the gasket at the place where it is least: sizes as "
                   "drawn, what gives between door and frame, strain and heat of every part. They "
                   "add up to the squeeze at the end of the bar.";
  return figure;
}

} // namespace hangtrue::output
