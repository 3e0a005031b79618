// SPDX-License-Identifier: GPL-3.0-or-later
#include "cases/input/door_file_reader.hpp"

#include "cases/input/door_schema.hpp"
#include "cases/input/key_rules.hpp"
#include "cases/input/toml_limits.hpp"
#include "cases/input/units.hpp"
#include "meshing/common/errors.hpp"

#include <fmt/format.h>
#include <fmt/ranges.h>
#include <toml++/toml.h>

#include <algorithm>
#include <cmath>
#include <optional>
#include <sstream>

namespace hangtrue::input
{

namespace
{

FilePlace place_of(const toml::source_region& region)
{
  return {static_cast<int>(region.begin.line), static_cast<int>(region.begin.column)};
}

// A number by the fewest digits that identify it; the library streams all seventeen.
std::string shown(const toml::node& node)
{
  if (const auto* number = node.as_floating_point())
    return fmt::format("{}", number->get());
  std::ostringstream out;
  node.visit([&](const auto& value) { out << value; });
  return message_text(out.str());
}

// The value as written in the file, with its units; pairs as "30 min: 400 degF".
std::string written(const toml::node& node, int depth = 0)
{
  if (const toml::array* list = node.as_array()) {
    std::string all;
    for (const auto& entry : *list)
      all += (all.empty() ? "" : depth == 0 ? ", " : ": ") + written(entry, depth + 1);
    return all;
  }
  if (node.is_string())
    return clean_text(*node.value<std::string>());
  return clean_text(shown(node));
}

// Reads one value by the rules of its key; throws InputError with found, allowed and repair.
class ValueReader
{
public:
  ValueReader(const DoorKey& key, UnitSystem units) : key_(key), rules_(key, units) {}

  [[nodiscard]] DoorValue read(const toml::node& node) const
  {
    DoorValue value;
    value.place = place_of(node.source());
    switch (key_.value) {
    case ValueKind::text:
      value.text = string_in(node);
      break;
    case ValueKind::word:
      value.text = rules_.word(string_in(node));
      break;
    case ValueKind::quantity:
      value.number = rules_.quantity(string_in(node));
      break;
    case ValueKind::lengths:
      value.list = lengths(node);
      break;
    case ValueKind::row:
      value.list = row(node);
      break;
    case ValueKind::load_curve:
      value.pairs = load_curve(node);
      break;
    case ValueKind::schedule:
      value.pairs = pairs(node, Dimension::time, Dimension::temperature, "time and temperature",
                          "[[\"0 min\", \"68 degF\"], [\"4 h\", \"800 degF\"]]");
      break;
    case ValueKind::curve:
      value.pairs = pairs(node, Dimension::temperature, key_.kind, "temperature and value",
                          "[[\"100 degC\", \"0.05 W/m/K\"], [\"300 degC\", \"0.09 W/m/K\"]]");
      break;
    case ValueKind::play:
      value.text = string_in(node);
      value.number = rules_.play(value.text);
      break;
    case ValueKind::number:
    case ValueKind::count:
      value.number = plain(node);
      break;
    case ValueKind::flag:
      value.flag = flag(node);
      break;
    }
    value.written = written(node); // of a sensible length by now
    return value;
  }

private:
  const DoorKey& key_;
  KeyRules rules_;

  [[nodiscard]] std::string string_in(const toml::node& node) const
  {
    if (const auto text = node.value<std::string>(); text && node.is_string())
      return rules_.text(clean_text(*text));
    if (key_.value == ValueKind::quantity || key_.value == ValueKind::lengths ||
        key_.value == ValueKind::row || key_.value == ValueKind::play)
      throw InputError(
          fmt::format("found {}: the unit is missing; allowed is a text with {}; write "
                      "the number and its unit in quotes, as in \"38 mm\"",
                      shown(node), allowed_units(key_.kind)));
    throw InputError(fmt::format("found {}: a text is due; allowed is {}; write it in quotes",
                                 shown(node), rules_.allowed()));
  }

  [[nodiscard]] std::vector<double> quantities(const toml::array& list) const
  {
    rules_.list_length(list.size());
    std::vector<double> values;
    for (const auto& entry : list)
      values.push_back(rules_.quantity(string_in(entry)));
    return values;
  }

  [[nodiscard]] std::vector<double> lengths(const toml::node& node) const
  {
    const toml::array* list = node.as_array();
    if (list == nullptr)
      return {rules_.quantity(string_in(node))};
    if (list->empty())
      throw InputError(fmt::format("found an empty list; allowed is {}; write one length for all, "
                                   "or one for each",
                                   rules_.allowed()));
    return quantities(*list);
  }

  [[nodiscard]] std::vector<double> row(const toml::node& node) const
  {
    const toml::array* list = node.as_array();
    if (list == nullptr || list->empty())
      throw InputError(fmt::format("found {}; allowed is a list of values, each {}; write them in "
                                   "square brackets, with commas between",
                                   shown(node), rules_.allowed()));
    return quantities(*list);
  }

  [[nodiscard]] KeyRules::Pairs pairs(const toml::node& node, Dimension first, Dimension second,
                                      const std::string& words, const std::string& example) const
  {
    const std::string repair = "write pairs, as in " + example;
    const toml::array* list = node.as_array();
    if (list == nullptr || list->size() < 2)
      throw InputError(fmt::format("found {}; allowed is a list of at least two pairs of {}; {}",
                                   shown(node), words, repair));
    rules_.list_length(list->size());
    KeyRules::Pairs read;
    for (const auto& entry : *list) {
      const toml::array* pair = entry.as_array();
      if (pair == nullptr || pair->size() != 2 || !pair->get(0)->is_string() ||
          !pair->get(1)->is_string())
        throw InputError(fmt::format("found {}; allowed is a pair of {} in quotes; {}",
                                     shown(entry), words, repair));
      const std::string at = string_in(*pair->get(0));
      const std::string then = string_in(*pair->get(1));
      read.push_back(rules_.next_pair(read, at, then, first, second));
    }
    return read;
  }

  [[nodiscard]] KeyRules::Pairs load_curve(const toml::node& node) const
  {
    auto read = pairs(
        node, Dimension::length, key_.kind, "squeeze and load",
        "[[\"0 in\", \"0 lbf/in\"], [\"0.15 in\", \"2 lbf/in\"], [\"0.3 in\", \"10 lbf/in\"]]");
    rules_.load_curve(read);
    return read;
  }

  [[nodiscard]] double plain(const toml::node& node) const
  {
    const auto value = node.value<double>();
    const bool whole = key_.value == ValueKind::count;
    if (!value || node.is_string() || node.is_boolean() || !std::isfinite(*value) ||
        (whole && !node.is_integer()))
      throw InputError(fmt::format("found {}: a plain {}number is due; allowed is {}; write it "
                                   "without quotes and unit",
                                   shown(node), whole ? "whole " : "", rules_.allowed()));
    return rules_.in_range(*value, shown(node));
  }

  [[nodiscard]] static bool flag(const toml::node& node)
  {
    if (node.is_boolean())
      return *node.value<bool>();
    throw InputError(
        fmt::format("found {}; allowed is true or false; write one of them", shown(node)));
  }
};

DoorValue fallback_value(const DoorKey& key)
{
  if (key.fallback.front() == '(') {
    DoorValue value;
    value.follows = true;
    return value;
  }
  const toml::table result = toml::parse("v = " + key.fallback);
  DoorValue value = ValueReader(key, UnitSystem::us).read(*result.get("v"));
  value.place = {};
  return value;
}

std::vector<std::string> names_in(const std::string& section)
{
  std::vector<std::string> names;
  for (const auto& key : door_keys())
    if (key.section == section)
      names.push_back(key.name);
  return names;
}

class FileReader
{
public:
  FileReader(const toml::table& file, UnitSystem units) : file_(file), units_(units) {}

  DoorValues read()
  {
    unknown_sections();
    for (const auto& section : door_sections()) {
      if (section.repeats())
        read_repeated(section);
      else
        read_single(section.name);
    }
    result_.faults = faults_.first();
    result_.faults_more = faults_.more();
    return std::move(result_);
  }

private:
  const toml::table& file_;
  UnitSystem units_;
  DoorValues result_;
  FirstFaults faults_;

  void unknown_sections()
  {
    std::vector<std::string> names;
    for (const auto& section : door_sections())
      names.push_back(section.name);
    for (const auto& [name, node] : file_) {
      const std::string found(name.str());
      if (std::find(names.begin(), names.end(), found) != names.end())
        continue;
      faults_.add(place_of(name.source()), message_text(found), [&] {
        return fmt::format("nobody knows this key; the nearest known one is [{}]; allowed are {}; "
                           "rename it or take it out",
                           nearest(found, names), fmt::join(names, ", "));
      });
    }
  }

  void wrong_shape(const std::string& name, const toml::node& node, const std::string& due)
  {
    faults_.add(place_of(node.source()), name, [&] {
      return fmt::format("found {}; allowed is a table; write {} on a line of its own, its keys "
                         "below",
                         shown(node), due);
    });
  }

  void read_single(const std::string& name)
  {
    const toml::node* node = file_.get(name);
    static const toml::table empty;
    if (node != nullptr && !node->is_table())
      wrong_shape(name, *node, "[" + name + "]");
    const toml::table& table = node != nullptr && node->is_table() ? *node->as_table() : empty;
    result_.sections[name].push_back(read_table(name, name, table));
  }

  void read_repeated(const DoorSection& section)
  {
    const std::string& name = section.name;
    result_.sections[name];
    const toml::node* node = file_.get(name);
    if (node == nullptr)
      return;
    const toml::array* list = node->as_array();
    if (list == nullptr || !list->is_array_of_tables()) {
      wrong_shape(name, *node, "[[" + name + "]]");
      return;
    }
    if (list->size() > section.max_count) {
      const toml::node& first_beyond = *list->get(section.max_count);
      faults_.add(place_of(first_beyond.source()), name, [&] {
        return fmt::format("found {} {}{}; allowed are up to {}; take some out", list->size(), name,
                           name == "latch" ? "es" : "s", section.max_count);
      });
      return;
    }
    int index = 0;
    for (const auto& entry : *list)
      result_.sections[name].push_back(
          read_table(name, fmt::format("{}[{}]", name, index++), *entry.as_table()));
  }

  SectionValues read_table(const std::string& section, const std::string& label,
                           const toml::table& table)
  {
    SectionValues values;
    values.section = label;
    values.place = place_of(table.source());
    const auto names = names_in(section);
    for (const auto& [key, node] : table) {
      const std::string found(key.str());
      if (find_key(section, found) == nullptr)
        faults_.add(place_of(key.source()), label + "." + message_text(found), [&] {
          return fmt::format("nobody knows this key; the nearest known one is \"{}\"; allowed are "
                             "{}; rename it or take it out",
                             nearest(found, names), fmt::join(names, ", "));
        });
    }
    for (const auto& key : door_keys())
      if (key.section == section)
        values.values[key.name] = read_key(key, label, table, values.place);
    return values;
  }

  DoorValue read_key(const DoorKey& key, const std::string& label, const toml::table& table,
                     const FilePlace& section_place)
  {
    const std::string full = label + "." + key.name;
    const toml::node* node = table.get(key.name);
    if (node == nullptr) {
      if (!key.fallback.empty())
        return fallback_value(key);
      faults_.add(section_place, full, [&] {
        return fmt::format("it is missing; allowed is {}; add a line {} = ...",
                           range_text(key, units_), key.name);
      });
      return {};
    }
    try {
      DoorValue value = ValueReader(key, units_).read(*node);
      value.given = true;
      return value;
    } catch (const InputError& error) {
      faults_.add(place_of(node->source()), full, [&] { return std::string(error.what()); });
      DoorValue value;
      value.given = true;
      value.place = place_of(node->source());
      return value;
    }
  }
};

UnitSystem units_of(const toml::table& file)
{
  const auto word = file["door"]["units"].value<std::string>();
  return word && *word == "si" ? UnitSystem::si : UnitSystem::us;
}

} // namespace

DoorValues read_values(const std::string& text)
{
  DoorValues broken;
  if (const auto trap = toml_trap(text)) {
    broken.faults.push_back({{trap->line, trap->column}, "the file", trap_text(*trap)});
    return broken;
  }
  try {
    const toml::table file = toml::parse(text);
    return FileReader(file, units_of(file)).read();
  } catch (const toml::parse_error& error) {
    broken.faults.push_back(
        {place_of(error.source()), "the file", unreadable_text(error.description())});
    return broken;
  }
}

} // namespace hangtrue::input
