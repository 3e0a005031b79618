// SPDX-License-Identifier: GPL-3.0-or-later
#include "cases/output/check_json.hpp"

#include "cases/verdict/check_result.hpp"
#include "cases/verdict/quantity_table.hpp"

#include <nlohmann/json.hpp>

#include <optional>

namespace hangtrue::output
{

namespace
{

using Json = nlohmann::ordered_json;

Json optional_json(const std::optional<double>& value)
{
  return value ? Json(*value) : Json(nullptr);
}

} // namespace

Json checks_json(const input::DoorCase& c, const check::CheckRun& run)
{
  Json list = Json::array();
  for (const auto& check : run.checks) {
    const verdict::QuantityRow& row = verdict::row_of(check.id.quantity);
    list.push_back({{"name", verdict::quantity_label(c, check.id)},
                    {"state", system::state_label(check.id.state)},
                    {"found", check.found},
                    {"limit", check.limit},
                    {"unit", verdict::si_unit(check.id.quantity)},
                    {"limit_origin", check.limit_origin},
                    {"limit_is", row.lower_bound ? "least" : "most"},
                    {"use", check.utilisation},
                    {"error", optional_json(check.error)},
                    {"model_error", check.model_error},
                    {"verdict", verdict::verdict_text(check.verdict)},
                    {"reason", check.reason}});
    if (check.likely_range)
      list.back()["likely"] = {check.likely_range->first, check.likely_range->second};
  }
  return list;
}

Json readings_json(const input::DoorCase& c, const check::CheckRun& run)
{
  Json list = Json::array();
  for (const system::DoorPosition position :
       {system::DoorPosition::open, system::DoorPosition::closed})
    for (const auto& q : run.quantities)
      if (!q.limit && q.id.state.position == position)
        list.push_back({{"name", verdict::quantity_label(c, q.id)},
                        {"state", system::state_label(q.id.state)},
                        {"value", q.value},
                        {"unit", verdict::si_unit(q.id.quantity)},
                        {"error", optional_json(q.error)},
                        {"error_of", q.inherited ? "other states" : "this state"}});
  return list;
}

Json above_tolerance_json(const input::DoorCase& c, const check::CheckRun& run)
{
  Json list = Json::array();
  for (const auto& check : run.checks)
    if (verdict::above_tolerance(check, c.accuracy.tolerance))
      list.push_back(
          {{"name", verdict::quantity_label(c, check.id)},
           {"state", system::state_label(check.id.state)},
           {"error_of_limit", check.limit > 0.0 ? Json(*check.error / check.limit) : Json()},
           {"verdict_hangs_in_it", verdict::verdict_undecided(check, c.accuracy.tolerance)}});
  return list;
}

} // namespace hangtrue::output
