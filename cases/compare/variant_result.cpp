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

namespace hangtrue
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

std::string state_word(VariantState state)
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

VariantRow make_row(const DoorCase& door_case, const CheckRun& run)
{
  VariantRow row;
  const Verdict verdict = worst(run.checks);
  row.state = verdict == Verdict::holds   ? VariantState::holds
              : verdict == Verdict::close ? VariantState::close
                                          : VariantState::fails;
  const Deflection& d = run.deflection;
  row.weight = d.weight + standard_gravity * pin_mass(door_case.door);
  row.drop = d.drop;
  row.drop_error = error_of(run.quantities, {d.state, Quantity::drop});
  row.steel_drop = d.elastic_drop;
  row.play_drop = d.drop - d.elastic_drop;
  row.drop_limit = door_case.limits.drop.value;
  row.shares = named(d.budget);
  for (const auto& check : run.checks)
    if (check.utilisation > row.use) {
      row.use = check.utilisation;
      row.tightest = quantity_label(door_case, check.id) +
                     (run.warm.empty() ? "" : ", " + state_label(check.id.state));
    }
  if (door_case.prices.given)
    row.cost = door_cost(door_case);
  return row;
}

std::string row_json(const VariantRow& row)
{
  Json shares = Json::array();
  for (const auto& s : row.shares)
    shares.push_back({{"part", s.part}, {"drop_m", s.value}});
  const Json json{{"state", state_word(row.state)}, {"note", row.note},
                  {"weight_N", row.weight},         {"drop_m", row.drop},
                  {"drop_error_m", row.drop_error}, {"play_drop_m", row.play_drop},
                  {"steel_drop_m", row.steel_drop}, {"drop_limit_m", row.drop_limit},
                  {"drop_shares", shares},          {"use", row.use},
                  {"tightest_check", row.tightest}, {"cost", row.cost},
                  {"wall_s", row.seconds}};
  return json.dump(1) + "\n";
}

std::optional<VariantRow> read_row(const std::string& text)
{
  const Json json = Json::parse(text, nullptr, false);
  if (json.is_discarded() || !json.is_object() || !json.contains("state"))
    return std::nullopt;
  try {
    VariantRow row;
    const auto word = json.at("state").get<std::string>();
    for (const VariantState s : all_states)
      if (state_word(s) == word)
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
    row.use = json.at("use").get<double>();
    row.tightest = json.at("tightest_check").get<std::string>();
    row.cost = json.at("cost").get<double>();
    row.seconds = json.at("wall_s").get<double>();
    return row;
  } catch (const nlohmann::json::exception&) {
    return std::nullopt;
  }
}

VariantRow stored_row(const std::string& folder, const Variant& variant)
{
  if (!variant.fault.empty()) {
    VariantRow row;
    row.state = VariantState::impossible;
    row.note = variant.fault;
    return row;
  }
  const std::string own = folder + "/" + variant.name + "/";
  const auto door = read_file(own + "door.toml");
  const auto row = read_file(own + "row.json");
  if (!door || !row || *door != variant.text)
    return {};
  return read_row(*row).value_or(VariantRow{});
}

BestRows best_rows(const std::vector<VariantRow>& rows)
{
  BestRows best;
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

} // namespace hangtrue
