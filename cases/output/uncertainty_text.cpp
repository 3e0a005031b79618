// SPDX-License-Identifier: GPL-3.0-or-later
#include "cases/output/uncertainty_text.hpp"

#include "cases/input/units.hpp"
#include "cases/verdict/quantity_table.hpp"

#include <fmt/format.h>
#include <nlohmann/json.hpp>

#include <algorithm>
#include <cmath>
#include <string>

namespace hangtrue::output
{

namespace
{

using Json = nlohmann::ordered_json;

Json slopes_json(const check::UncertaintyResult& s)
{
  Json list = Json::array();
  for (const auto& answer : s.sensitivities) {
    Json slopes = Json::array();
    for (const auto& slope : answer.sensitivities) {
      const sensitivity::UncertainInput& input = s.inputs[slope.input];
      slopes.push_back(
          {{"key", input.key},
           {"what", input.what},
           {"value", input.value},
           {"factor", input.factor},
           {"slope_m_per_SI", slope.derivative ? Json(*slope.derivative) : Json(nullptr)}});
    }
    list.push_back({{"state", system::state_label(answer.id.state)},
                    {"answer", verdict::goal_label(answer.id.quantity)},
                    {"on_coarsest_mesh_m", answer.whole},
                    {"slopes", slopes}});
  }
  return list;
}

} // namespace

std::string uncertainty_text(const check::UncertaintyResult& s, input::UnitSystem units)
{
  const auto length = [&](double v) {
    return input::format_short(v, input::Dimension::length, units);
  };
  std::string text =
      "\nHow sure that is: what is known to a factor only, off by chance (likely) or "
      "the worst way at once\n";
  for (const auto& range : s.intervals) {
    text += fmt::format("  {}: {}\n    {}, likely +- {}, at most +- {}\n",
                        system::state_label(range.id.state), verdict::goal_label(range.id.quantity),
                        length(range.found), length(range.rss), length(range.worst_case));
    std::string reasons;
    constexpr std::size_t maximum = 3;
    for (std::size_t i = 0; i < std::min(maximum, range.terms.size()); ++i)
      reasons += fmt::format("{}{} {}", i > 0 ? ", " : "", range.terms[i].what,
                             length(std::abs(range.terms[i].by)));
    text += "    from " + reasons + "\n";
  }
  return text;
}

Json uncertainty_json(const check::UncertaintyResult& s)
{
  Json bands = Json::array();
  for (const auto& b : s.tolerances)
    bands.push_back(
        {{"key", b.key},
         {"what", b.what},
         {"value", b.value},
         {"half_width", b.half},
         {"factor", b.factor},
         {"origin", b.given ? "given in the door file" : "common practice, no source"}});
  Json ranges = Json::array();
  for (const auto& r : s.intervals) {
    Json parts = Json::array();
    for (const auto& p : r.terms)
      parts.push_back({{"key", p.key}, {"by_m", p.by}});
    ranges.push_back({{"state", system::state_label(r.id.state)},
                      {"answer", verdict::goal_label(r.id.quantity)},
                      {"found_m", r.found},
                      {"likely_m", r.rss},
                      {"at_most_m", r.worst_case},
                      {"parts", parts}});
  }
  return {{"bands", bands}, {"ranges", ranges}, {"slopes", slopes_json(s)}};
}

} // namespace hangtrue::output
