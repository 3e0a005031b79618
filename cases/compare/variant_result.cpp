// SPDX-License-Identifier: GPL-3.0-or-later
#include "cases/compare/variant_result.hpp"

#include "cases/compare/cost.hpp"
#include "cases/verdict/check_result.hpp"
#include "cases/verdict/quantity_table.hpp"
#include "solver/elasticity/nodal_loads.hpp"

#include <nlohmann/json.hpp>

#include <algorithm>
#include <array>
#include <fstream>
#include <sstream>

namespace hangtrue::compare
{

namespace
{

using Json = nlohmann::ordered_json;

constexpr std::array<VariantState, 6> all_states{VariantState::missing,   VariantState::impossible,
                                                 VariantState::no_number, VariantState::holds,
                                                 VariantState::close,     VariantState::fails};

std::optional<std::string> read_file(const std::string& path)
{
  std::ifstream file(path, std::ios::binary);
  if (!file)
    return std::nullopt;
  std::ostringstream text;
  text << file.rdbuf();
  return text.str();
}

} // namespace

std::string state_text(VariantState state)
{
  switch (state) {
  case VariantState::missing:
    return "missing";
  case VariantState::impossible:
    return "impossible";
  case VariantState::no_number:
    return "no number";
  case VariantState::holds:
    return "holds";
  case VariantState::close:
    return "close";
  case VariantState::fails:
    return "fails";
  }
  return "";
}

VariantResult make_result(const input::DoorCase& door_case, const check::CheckRun& run)
{
  VariantResult row;
  const verdict::Verdict verdict = verdict::worst(run.checks);
  row.state = verdict == verdict::Verdict::holds   ? VariantState::holds
              : verdict == verdict::Verdict::close ? VariantState::close
                                                   : VariantState::fails;
  const analysis::OpenDoorResult& d = run.open_cold;
  row.weight = d.weight + elasticity::standard_gravity * pin_mass(door_case.door);
  row.drop = d.drop;
  row.drop_error = verdict::error_of(run.quantities, {d.state, qoi::Quantity::drop});
  row.steel_drop = d.elastic_drop;
  row.play_drop = d.drop - d.elastic_drop;
  row.drop_limit = door_case.limits.drop.value;
  row.shares = case_figures::named(d.drop_contributions);
  for (const auto& check : run.checks)
    if (check.utilisation > row.utilisation) {
      row.utilisation = check.utilisation;
      row.tightest = verdict::quantity_label(door_case, check.id) +
                     (run.open_thermal.empty() ? "" : ", " + system::state_label(check.id.state));
    }
  if (door_case.prices.given)
    row.cost = door_cost(door_case);
  return row;
}

std::string result_json(const VariantResult& row)
{
  Json shares = Json::array();
  for (const auto& s : row.shares)
    shares.push_back({{"part", s.part}, {"drop_m", s.value}});
  const Json json{{"state", state_text(row.state)}, {"note", row.note},
                  {"weight_N", row.weight},         {"drop_m", row.drop},
                  {"drop_error_m", row.drop_error}, {"play_drop_m", row.play_drop},
                  {"steel_drop_m", row.steel_drop}, {"drop_limit_m", row.drop_limit},
                  {"drop_shares", shares},          {"use", row.utilisation},
                  {"tightest_check", row.tightest}, {"cost", row.cost},
                  {"wall_s", row.seconds}};
  return json.dump(1) + "\n";
}

std::optional<VariantResult> read_result(const std::string& text)
{
  const Json json = Json::parse(text, nullptr, false);
  if (json.is_discarded() || !json.is_object() || !json.contains("state"))
    return std::nullopt;
  try {
    VariantResult row;
    const auto word = json.at("state").get<std::string>();
    for (const VariantState s : all_states)
      if (state_text(s) == word)
        row.state = s;
    row.note = json.at("note").get<std::string>();
    row.weight = json.at("weight_N").get<double>();
    row.drop = json.at("drop_m").get<double>();
    row.drop_error = json.at("drop_error_m").get<double>();
    row.play_drop = json.at("play_drop_m").get<double>();
    row.steel_drop = json.at("steel_drop_m").get<double>();
    row.drop_limit = json.value("drop_limit_m", 0.0);
    for (const auto& s : json.value("drop_shares", Json::array())) {
      const auto part = s.at("part").get<std::string>();
      row.shares.push_back({part, s.at("drop_m").get<double>()});
    }
    row.utilisation = json.at("use").get<double>();
    row.tightest = json.at("tightest_check").get<std::string>();
    row.cost = json.at("cost").get<double>();
    row.seconds = json.at("wall_s").get<double>();
    return row;
  } catch (const nlohmann::json::exception&) {
    return std::nullopt;
  }
}

VariantResult stored_result(const std::string& folder, const Variant& variant)
{
  if (!variant.fault.empty()) {
    VariantResult row;
    row.state = VariantState::impossible;
    row.note = variant.fault;
    return row;
  }
  const std::string own = folder + "/" + variant.name + "/";
  const auto door = read_file(own + "door.toml");
  const auto row = read_file(own + "row.json");
  if (!door || !row || *door != variant.text)
    return {};
  return read_result(*row).value_or(VariantResult{});
}

BestVariants best_variants(const std::vector<VariantResult>& rows)
{
  BestVariants best;
  for (std::size_t r = 0; r < rows.size(); ++r) {
    if (rows[r].state != VariantState::holds)
      continue;
    const int index = static_cast<int>(r);
    if (best.lightest < 0 || rows[r].weight < rows[best.lightest].weight)
      best.lightest = index;
    if (rows[r].cost >= 0.0 && (best.cheapest < 0 || rows[r].cost < rows[best.cheapest].cost))
      best.cheapest = index;
  }
  return best;
}

} // namespace hangtrue::compare
