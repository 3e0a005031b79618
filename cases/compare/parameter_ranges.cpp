// SPDX-License-Identifier: GPL-3.0-or-later
#include "cases/compare/parameter_ranges.hpp"

#include "cases/input/door_file.hpp"
#include "cases/input/door_schema.hpp"
#include "cases/input/toml_limits.hpp"
#include "cases/input/units.hpp"
#include "meshing/common/errors.hpp"

#include <fmt/format.h>
#include <fmt/ranges.h>
#include <toml++/toml.h>

#include <algorithm>
#include <charconv>
#include <cmath>
#include <filesystem>
#include <fstream>
#include <sstream>

namespace hangtrue::compare
{

namespace
{

std::string trimmed(const std::string& text)
{
  const auto first = text.find_first_not_of(" \t\n");
  if (first == std::string::npos)
    return "";
  return text.substr(first, text.find_last_not_of(" \t\n") - first + 1);
}

std::vector<std::string> parts(const std::string& text, char between)
{
  std::vector<std::string> result;
  std::istringstream in(text);
  for (std::string part; std::getline(in, part, between);)
    result.push_back(trimmed(part));
  if (!text.empty() && text.back() == between)
    result.emplace_back();
  return result;
}

bool is_bare(const input::DoorKey& key)
{
  return key.value == input::ValueKind::number || key.value == input::ValueKind::count ||
         key.value == input::ValueKind::flag;
}

bool is_measure(const input::DoorKey& key)
{
  return key.value == input::ValueKind::quantity || key.value == input::ValueKind::lengths ||
         key.value == input::ValueKind::play;
}

[[noreturn]] void refuse(const std::string& what, const std::string& found,
                         const std::string& allowed, const std::string& repair)
{
  throw InputError(
      fmt::format("try {}: found {}; allowed is {}; {}", what, found, allowed, repair));
}

std::string to_toml(const input::DoorKey& key, const std::string& text)
{
  if (is_bare(key) || (!text.empty() && text.front() == '['))
    return text;
  std::string quoted = "\"";
  for (const char c : text)
    quoted += (c == '"' || c == '\\') ? std::string("\\") + c : std::string(1, c);
  return quoted + "\"";
}

// Ends and step of a range as plain numbers in the unit of its first end.
struct Scale {
  std::string unit; // with a blank before it, or empty
  double zero = 0.0;
  double one = 1.0; // SI of 0 and of 1 in that unit
  input::Dimension kind = input::Dimension::length;
  bool plain = false;

  [[nodiscard]] double value(const std::string& text) const
  {
    if (!plain)
      return (input::parse_quantity(text, kind) - zero) / (one - zero);
    double number = 0.0;
    const auto [end, error] = std::from_chars(text.data(), text.data() + text.size(), number);
    if (error != std::errc() || end != text.data() + text.size())
      throw InputError(fmt::format("found \"{}\"; allowed is a plain number; write it without a "
                                   "unit",
                                   input::message_text(text)));
    return number;
  }
};

Scale scale_of(const input::DoorKey& key, const std::string& from)
{
  Scale scale;
  scale.kind = key.kind;
  scale.plain = !is_measure(key);
  if (scale.plain)
    return scale;
  scale.unit = fmt::format(" {}", input::last_unit(from, key.kind)); // says what is wrong with it
  scale.zero = input::parse_quantity("0" + scale.unit, key.kind);
  scale.one = input::parse_quantity("1" + scale.unit, key.kind);
  return scale;
}

std::vector<std::string> read_range(const SweptKey& tried, const input::DoorKey& key,
                                    const std::string& text)
{
  const std::string how = "\"FROM .. TO by STEP\" or \"FROM .. TO in COUNT\"";
  if (!is_measure(key) && key.value != input::ValueKind::number &&
      key.value != input::ValueKind::count)
    refuse(tried.written, fmt::format("a range \"{}\"", input::message_text(text)),
           "a list for this key: " + input::range_text(key, input::UnitSystem::us),
           "list its values");
  const auto dots = text.find("..");
  const std::string from = trimmed(text.substr(0, dots));
  const std::string rest = trimmed(text.substr(dots + 2));
  auto by = rest.find(" by ");
  auto in = rest.rfind(" in ");
  const bool counted = by == std::string::npos;
  if (counted && in == std::string::npos)
    refuse(tried.written, fmt::format("\"{}\"", input::message_text(text)), how,
           "say how far apart, or how many");
  const std::string to = trimmed(rest.substr(0, counted ? in : by));
  const std::string step = trimmed(rest.substr((counted ? in : by) + 4));
  const Scale scale = scale_of(key, from);
  const double first = scale.value(from);
  const double last = scale.value(to);
  double apart = 0.0;
  double count = 0.0;
  if (counted) {
    Scale plain;
    plain.plain = true;
    count = plain.value(step);
    apart = count > 1.0 ? (last - first) / (count - 1.0) : 0.0;
  } else {
    // A step is a difference: in degF its zero does not count.
    const double width =
        scale.plain ? scale.value(step) : scale.value(step) - scale.value("0" + scale.unit);
    apart = last >= first ? std::abs(width) : -std::abs(width);
    count = apart != 0.0 ? std::floor((last - first) / apart + 1e-9) + 1.0 : 0.0;
  }
  constexpr double maximum = 1000.0;
  if (!(count >= 1.0 && count <= maximum) || count != std::floor(count))
    refuse(tried.written, fmt::format("{:g} values in \"{}\"", count, input::message_text(text)),
           "1 to 1000", "change its step");
  std::vector<std::string> values;
  for (int i = 0; i < static_cast<int>(count); ++i) {
    const double v = first + i * apart;
    values.push_back(scale.plain
                         ? (key.value == input::ValueKind::count ? fmt::format("{:.0f}", v)
                                                                 : fmt::format("{:.10g}", v))
                         : fmt::format("\"{:.8g}{}\"", v, scale.unit));
  }
  return values;
}

std::string bare_text(const std::string& toml_value)
{
  if (toml_value.size() >= 2 && (toml_value.front() == '"' || toml_value.front() == '\''))
    return toml_value.substr(1, toml_value.size() - 2);
  return toml_value;
}

// Columns of values, one per key, to rows that vary together.
ParameterSweep in_step(const std::vector<std::string>& keys,
                       const std::vector<std::vector<std::string>>& columns,
                       const std::string& place)
{
  ParameterSweep list;
  list.keys = keys;
  const std::size_t rows = columns.front().size();
  for (std::size_t k = 0; k < columns.size(); ++k)
    if (columns[k].size() != rows)
      refuse(place,
             fmt::format("{} values of {} beside {} of {}", columns[k].size(), keys[k], rows,
                         keys.front()),
             "equally many, since keys of one list move in step",
             "add or take out values, or give the key a list of its own");
  for (std::size_t r = 0; r < rows; ++r) {
    list.rows.emplace_back();
    for (const auto& column : columns)
      list.rows.back().push_back(column[r]);
  }
  if (rows == 0)
    refuse(place, "no value", "at least one", "list what is to be tried");
  return list;
}

std::string read_text(const std::string& path)
{
  std::ifstream file(path, std::ios::binary);
  std::error_code error;
  std::string text(static_cast<std::size_t>(input::max_door_file_size) + 1, '\0');
  const bool ordinary = std::filesystem::is_regular_file(path, error) && file;
  if (ordinary)
    file.read(text.data(), static_cast<std::streamsize>(text.size()));
  if (!ordinary || file.gcount() > input::max_door_file_size)
    throw InputError(fmt::format("{}: the plan file: {}; allowed is a TOML text of up to {} KiB; "
                                 "check its name",
                                 input::clean_text(path),
                                 ordinary ? "it is too large" : "it cannot be read",
                                 input::max_door_file_size / 1024));
  text.resize(static_cast<std::size_t>(file.gcount()));
  return text;
}

ParameterSweep list_from_table(const toml::table& table, const std::string& place)
{
  std::vector<std::string> keys;
  std::vector<std::vector<std::string>> columns;
  for (const auto& [name, node] : table) {
    const SweptKey key = read_key(std::string(name.str()));
    keys.push_back(key.written);
    columns.emplace_back();
    auto add = [&](const toml::node& value) {
      std::ostringstream text;
      value.visit([&](const auto& v) { text << v; });
      const std::string whole = input::clean_text(text.str());
      if (value.is_string() && whole.find("..") != std::string::npos)
        for (auto& v : read_entry(key, bare_text(whole)))
          columns.back().push_back(std::move(v));
      else
        columns.back().push_back(whole);
    };
    if (const toml::array* values = node.as_array())
      for (const auto& value : *values)
        add(value);
    else
      add(node);
  }
  if (keys.empty())
    refuse(place, "an empty table", "keys of the door file in quotes with lists of values",
           "add one, as in \"hinge.pin_diameter\" = [\"3/4 in\", \"1 in\"]");
  return in_step(keys, columns, place);
}

} // namespace

SweptKey read_key(const std::string& written)
{
  SweptKey key;
  key.written = written;
  const auto dot = written.find('.');
  std::string section = written.substr(0, dot);
  if (const auto open = section.find('['); open != std::string::npos) {
    const std::string digits = section.substr(open + 1, section.size() - open - 2);
    const auto [end, error] =
        std::from_chars(digits.data(), digits.data() + digits.size(), key.index);
    if (error != std::errc() || section.back() != ']' || key.index < 0 ||
        end != digits.data() + digits.size())
      refuse(input::message_text(written), "no whole number in its brackets",
             "an index from 0, as in hinge[0].at", "correct it");
    section.resize(open);
  }
  key.section = section;
  key.name = dot == std::string::npos ? "" : written.substr(dot + 1);
  if (input::find_key(key.section, key.name) != nullptr)
    return key;
  std::vector<std::string> known;
  for (const auto& k : input::door_keys())
    known.push_back(k.section + "." + k.name);
  refuse(input::message_text(written), "a key that the door file does not have",
         "a key of `hangtrue keys` with its section",
         fmt::format("the nearest is {}", input::nearest(key.section + "." + key.name, known)));
}

std::vector<std::string> read_entry(const SweptKey& tried, const std::string& text)
{
  const input::DoorKey& key = *input::find_key(tried.section, tried.name);
  if (text.empty())
    refuse(tried.written, "an empty value", input::range_text(key, input::UnitSystem::us),
           "write one, or take out a |");
  try {
    if (text.find("..") != std::string::npos)
      return read_range(tried, key, text);
    std::string value = to_toml(key, text);
    if (input::toml_trap(value))
      refuse(tried.written, fmt::format("\"{}\"", input::message_text(text)),
             input::range_text(key, input::UnitSystem::us), "correct it");
    static_cast<void>(toml::parse("v = " + value)); // only to see that it can be read
    return {value};
  } catch (const toml::parse_error&) {
    refuse(tried.written, fmt::format("\"{}\"", input::message_text(text)),
           input::range_text(key, input::UnitSystem::us), "correct it");
  } catch (const InputError& error) {
    const std::string said = error.what();
    throw InputError(said.rfind("try ", 0) == 0 ? said
                                                : fmt::format("try {}: {}", tried.written, said));
  }
}

ParameterSweep read_sweep(const std::string& given)
{
  const std::string text = input::clean_text(given);
  const auto colon = text.find(':');
  if (colon == std::string::npos)
    refuse(fmt::format("\"{}\"", input::message_text(text)), "no colon", "KEY: VALUE | VALUE | ...",
           "write it as in \"hinge.pin_diameter: 3/4 in | 1 in\"");
  std::vector<SweptKey> keys;
  std::vector<std::string> names;
  const auto written_keys = parts(text.substr(0, colon), '&');
  if (written_keys.empty())
    refuse(fmt::format("\"{}\"", input::message_text(text)), "no key before the colon",
           "KEY: VALUE | VALUE | ...", "write it as in \"hinge.pin_diameter: 3/4 in | 1 in\"");
  for (const auto& written : written_keys) {
    keys.push_back(read_key(written));
    names.push_back(written);
  }
  std::vector<std::vector<std::string>> columns(keys.size());
  for (const auto& row : parts(text.substr(colon + 1), '|')) {
    const auto values = parts(row, '&');
    if (values.size() != keys.size() && !(values.empty() && keys.size() == 1))
      refuse(input::message_text(text.substr(0, colon)),
             fmt::format("{} values in \"{}\"", values.size(), input::message_text(row)),
             fmt::format("{}, one for each key", keys.size()), "part them with &");
    for (std::size_t k = 0; k < keys.size(); ++k)
      for (auto& value : read_entry(keys[k], values.empty() ? "" : values[k]))
        columns[k].push_back(std::move(value));
  }
  return in_step(names, columns, text.substr(0, colon));
}

void read_plan_file(const std::string& path, SweepPlan& plan)
{
  const std::string text = read_text(path);
  const std::string shown_path = input::clean_text(path);
  if (const auto trap = input::toml_trap(text))
    throw InputError(fmt::format("{}:{}:{}: the plan file: {}", shown_path, trap->line,
                                 trap->column, input::trap_text(*trap)));
  try {
    const toml::table file = toml::parse(text);
    for (const auto& [name, node] : file) {
      if (name.str() == "singly" && node.is_boolean()) {
        plan.singly = *node.value<bool>();
        continue;
      }
      const toml::array* tables = node.as_array();
      if (name.str() != "try" || tables == nullptr || !tables->is_array_of_tables())
        throw InputError(fmt::format("{}:{}: {}: nobody knows this key; allowed are singly = true "
                                     "and [[try]] tables; rename it or take it out",
                                     shown_path, name.source().begin.line,
                                     input::message_text(std::string(name.str()))));
      for (const auto& table : *tables)
        plan.lists.push_back(list_from_table(
            *table.as_table(), fmt::format("{}:{}", shown_path, table.source().begin.line)));
    }
  } catch (const toml::parse_error& error) {
    throw InputError(fmt::format("{}:{}:{}: the plan file: found something that cannot be read "
                                 "({}); allowed is a TOML text; correct that line",
                                 shown_path, error.source().begin.line, error.source().begin.column,
                                 input::message_text(error.description(), 200)));
  }
}

} // namespace hangtrue::compare
