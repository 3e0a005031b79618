// SPDX-License-Identifier: GPL-3.0-or-later
#include "cases/compare/variants.hpp"

#include "cases/compare/parameter_ranges.hpp"
#include "cases/input/clean_text.hpp"
#include "cases/input/door_file.hpp"
#include "cases/input/door_file_reader.hpp"
#include "cases/input/door_schema.hpp"
#include "cases/runtime/version.hpp"
#include "meshing/common/errors.hpp"

#include <fmt/format.h>
#include <toml++/toml.h>

#include <algorithm>
#include <array>
#include <cstdint>
#include <numeric>
#include <sstream>
#include <string_view>

namespace hangtrue::compare
{

namespace
{

constexpr std::size_t max_variants = 10000;

// FNV-1a, 64 bit (Fowler, Noll, Vo; offset and prime from memory). For equal names the whole text
// is compared before anything is reused.
std::string content_name(const std::string& text)
{
  std::uint64_t hash = 14695981039346656037ULL;
  for (const std::string_view part :
       {std::string_view(text), std::string_view(version), std::string_view(library_versions)})
    for (const char c : part) {
      hash ^= static_cast<unsigned char>(c);
      hash *= 1099511628211ULL;
    }
  return fmt::format("v-{:016x}", hash);
}

void set_in(toml::table& table, const std::string& name, const std::string& value)
{
  const toml::table result = toml::parse("v = " + value);
  result.get("v")->visit([&](const auto& node) { table.insert_or_assign(name, node); });
}

[[noreturn]] void refuse_index(const SweptKey& key, std::size_t there)
{
  throw InputError(fmt::format("try {}: the door file has {} [[{}]]; allowed is an index from 0 to "
                               "{}; correct it, or leave it out to change all of them",
                               key.written, there, key.section, there == 0 ? 0 : there - 1));
}

void set_in_door(toml::table& door, const SweptKey& key, const std::string& value)
{
  const bool repeats = std::any_of(
      input::door_sections().begin(), input::door_sections().end(),
      [&](const input::DoorSection& s) { return s.name == key.section && s.repeats(); });
  if (!repeats) {
    if (door.get(key.section) == nullptr)
      door.insert(key.section, toml::table{});
    if (auto* section = door.get(key.section)->as_table())
      set_in(*section, key.name, value);
    return;
  }
  toml::array* list = door.get_as<toml::array>(key.section);
  const std::size_t there = list == nullptr ? 0 : list->size();
  if (there == 0 || key.index >= static_cast<int>(there))
    refuse_index(key, there);
  for (std::size_t i = 0; i < there; ++i)
    if (key.index < 0 || static_cast<std::size_t>(key.index) == i)
      if (auto* section = list->get(i)->as_table())
        set_in(*section, key.name, value);
}

std::string variant_text(const toml::table& base, const std::vector<KeyValue>& settings,
                         const std::string& door_name)
{
  toml::table door = base;
  std::string head = fmt::format("# A variant of {}", input::clean_text(door_name));
  for (const auto& [key, value] : settings) {
    set_in_door(door, read_key(key), value);
    head += fmt::format("\n#   {} = {}", key, value);
  }
  std::ostringstream text;
  text << head << "\n\n" << door << "\n";
  return text.str();
}

// Rows of settings: every list against every other, the last fastest; or one list at a time after
// the door as it is.
std::vector<std::vector<KeyValue>> combine(const SweepPlan& plan)
{
  auto settings_of = [](const ParameterSweep& list, std::size_t row) {
    std::vector<KeyValue> result;
    for (std::size_t k = 0; k < list.keys.size(); ++k)
      result.emplace_back(list.keys[k], list.rows[row][k]);
    return result;
  };
  std::vector<std::vector<KeyValue>> all{{}};
  if (plan.singly) {
    std::size_t count = all.size();
    for (const auto& list : plan.lists)
      count += list.rows.size();
    if (count > max_variants)
      throw InputError(
          fmt::format("the plan: it makes {} variants; allowed are up to {}; shorten a "
                      "list",
                      count, max_variants));
    for (const auto& list : plan.lists)
      for (std::size_t r = 0; r < list.rows.size(); ++r)
        all.push_back(settings_of(list, r));
    return all;
  }
  for (const auto& list : plan.lists) {
    if (all.size() * list.rows.size() > max_variants)
      throw InputError(
          fmt::format("the plan: it makes more than {} variants; allowed is that many; "
                      "shorten a list, or try them one at a time with --singly",
                      max_variants));
    std::vector<std::vector<KeyValue>> longer;
    for (const auto& start : all)
      for (std::size_t r = 0; r < list.rows.size(); ++r) {
        auto next = start;
        for (auto& s : settings_of(list, r))
          next.push_back(std::move(s));
        longer.push_back(std::move(next));
      }
    all = std::move(longer);
  }
  return all;
}

void refuse_twice(const SweepPlan& plan)
{
  std::vector<std::string> seen;
  for (const auto& list : plan.lists)
    for (const auto& key : list.keys) {
      if (std::find(seen.begin(), seen.end(), key) != seen.end())
        throw InputError(fmt::format("try {}: it is listed twice; allowed is once; put all its "
                                     "values into one list",
                                     key));
      seen.push_back(key);
    }
}

// Wrong values are a fault of all variants and stop the run; a contradiction is the variant's own.
void check_variant(Variant& variant, const std::string& door_name)
{
  const std::string label = fmt::format("{}, variant {} ({})", input::clean_text(door_name),
                                        variant.number, key_values_text(variant));
  if (!input::read_values(variant.text).faults.empty()) {
    input::read_door_text(variant.text, label); // throws with all of them
  }
  try {
    input::read_door_text(variant.text, label);
  } catch (const InputError& error) {
    variant.fault = error.what();
  }
}

} // namespace

std::vector<Variant> make_variants(const std::string& door_text, const std::string& door_name,
                                   const SweepPlan& plan)
{
  refuse_twice(plan);
  const toml::table base = toml::parse(door_text);
  std::vector<Variant> variants;
  for (auto& settings : combine(plan)) {
    Variant result;
    result.number = static_cast<int>(variants.size()) + 1;
    result.text = variant_text(base, settings, door_name);
    result.settings = std::move(settings);
    result.name = content_name(result.text);
    check_variant(result, door_name);
    variants.push_back(std::move(result));
  }
  const bool none = std::none_of(variants.begin(), variants.end(),
                                 [](const Variant& v) { return v.fault.empty(); });
  if (none)
    throw InputError(variants.front().fault + "\nand no other variant can be built either");
  return variants;
}

bool keeps_panel(const std::string& key)
{
  constexpr std::array<std::string_view, 4> of_hinge{"pin_diameter", "clearance", "end_float",
                                                     "carries_weight"};
  const SweptKey read = read_key(key);
  if (read.section == "hinge")
    return std::find(of_hinge.begin(), of_hinge.end(), read.name) != of_hinge.end();
  return read.section == "handle" || read.section == "limits" || read.section == "accuracy" ||
         key == "door.swing" || key == "door.name" || key == "door.shop" || key == "door.units";
}

std::vector<int> cache_friendly_order(const std::vector<Variant>& variants)
{
  auto rank = [](const Variant& v) {
    std::array<std::string, 4> result; // panel, pins, bores, the rest
    for (const auto& [key, value] : v.settings) {
      const std::size_t place = !keeps_panel(key)                               ? 0
                                : key.find("pin_diameter") != std::string::npos ? 1
                                : key.find("clearance") != std::string::npos    ? 2
                                                                                : 3;
      result.at(place) += key + "=" + value + ";";
    }
    return result;
  };
  std::vector<std::pair<std::array<std::string, 4>, int>> ranked;
  for (std::size_t v = 0; v < variants.size(); ++v)
    if (variants[v].fault.empty())
      ranked.emplace_back(rank(variants[v]), static_cast<int>(v));
  std::sort(ranked.begin(), ranked.end());
  std::vector<int> order;
  order.reserve(ranked.size());
  for (const auto& r : ranked)
    order.push_back(r.second);
  return order;
}

std::string key_values_text(const Variant& variant)
{
  if (variant.settings.empty())
    return "as drawn";
  std::string text;
  for (const auto& [key, value] : variant.settings) {
    std::string bare = value;
    bare.erase(
        std::remove_if(bare.begin(), bare.end(), [](char c) { return c == '"' || c == '\''; }),
        bare.end());
    text += fmt::format("{}{} {}", text.empty() ? "" : ", ", key, bare);
  }
  return text;
}

} // namespace hangtrue::compare
