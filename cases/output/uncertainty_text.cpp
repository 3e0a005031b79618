#include "cases/output/uncertainty_text.hpp"

#include "cases/input/units.hpp"
#include "cases/verdict/quantity_table.hpp"

#include <fmt/format.h>
#include <nlohmann/json.hpp>

#include <algorithm>
#include <cmath>
#include <string>

namespace hangtrue
{

namespace
{

using Json = nlohmann::ordered_json;

Json slopes_json(const Sureness& s)
{
  Json list = Json::array();
  for (const auto& answer : s.slopes) {
    Json slopes = Json::array();
    for (const auto& slope : answer.slopes) {
      const Nudge& nudge = s.nudges[slope.nudge];
      slopes.push_back({{"key", nudge.key},
                        {"what", nudge.what},
                        {"value", nudge.value},
                        {"factor", nudge.factor},
                        {"slope_m_per_SI", slope.value ? Json(*slope.value) : Json(nullptr)}});
    }
    list.push_back({{"state", state_label(answer.id.state)},
                    {"answer", goal_label(answer.id.quantity)},
                    {"on_coarsest_mesh_m", answer.whole},
                    {"slopes", slopes}});
  }
  return list;
}

} // namespace

std::string spread_text(const Sureness& s, Units units)
{
  const auto length = [&](double v) { return format_short(v, Kind::length, units); };
  std::string text =
      "\nHow sure that is: what is known to a factor only, off by chance (likely) or "
      "the worst way at once\n";
  for (const auto& range : s.ranges) {
    text += fmt::format("  {}: {}\n    {}, likely +- {}, at most +- {}\n",
                        state_label(range.id.state), goal_label(range.id.quantity),
                        length(range.found), length(range.likely), length(range.at_most));
    std::string reasons;
    constexpr std::size_t most = 3;
    for (std::size_t i = 0; i < std::min(most, range.parts.size()); ++i)
      reasons += fmt::format("{}{} {}", i > 0 ? ", " : "", range.parts[i].what,
                             length(std::abs(range.parts[i].by)));
    text += "    from " + reasons + "\n";
  }
  return text;
}

Json spread_json(const Sureness& s)
{
  Json bands = Json::array();
  for (const auto& b : s.bands)
    bands.push_back(
        {{"key", b.key},
         {"what", b.what},
         {"value", b.value},
         {"half_width", b.half},
         {"factor", b.factor},
         {"origin", b.given ? "given in the door file" : "common practice, no source"}});
  Json ranges = Json::array();
  for (const auto& r : s.ranges) {
    Json parts = Json::array();
    for (const auto& p : r.parts)
      parts.push_back({{"key", p.key}, {"by_m", p.by}});
    ranges.push_back({{"state", state_label(r.id.state)},
                      {"answer", goal_label(r.id.quantity)},
                      {"found_m", r.found},
                      {"likely_m", r.likely},
                      {"at_most_m", r.at_most},
                      {"parts", parts}});
  }
  return {{"bands", bands}, {"ranges", ranges}, {"slopes", slopes_json(s)}};
}

} // namespace hangtrue
