// SPDX-License-Identifier: GPL-3.0-or-later
#include "cases/input/starter_file.hpp"

#include "cases/input/door_file.hpp"
#include "cases/input/door_file_reader.hpp"
#include "cases/input/door_schema.hpp"
#include "cases/input/toml_limits.hpp"

#include <fmt/format.h>
#include <fmt/ranges.h>

#include <map>

namespace hangtrue::input
{

namespace
{

// What the starter file says where a key has no default.
const std::map<std::string, std::string>& example_values()
{
  static const std::map<std::string, std::string> values{{"door.name", "\"Fire door\""},
                                                         {"door.shop", "\"Our shop\""},
                                                         {"door.width", "\"30 in\""},
                                                         {"door.height", "\"30 in\""}};
  return values;
}

void add_key(std::string& text, const DoorKey& key)
{
  text += fmt::format("# {}\n", key.sentence);
  if (key.value == ValueKind::word)
    text += fmt::format("# one of: {}\n", fmt::join(key.words, ", "));
  const auto example = example_values().find(key.section + "." + key.name);
  if (example != example_values().end())
    text += fmt::format("{} = {}\n", key.name, example->second);
  else if (key.fallback.front() == '(')
    text += fmt::format("# {} = ...   follows {}\n", key.name, key.fallback);
  else
    text += fmt::format("{} = {}\n", key.name, key.fallback);
}

void add_hinge(std::string& text, const std::string& at, bool explain)
{
  text +=
      fmt::format("\n[[hinge]]\n# Middle of the hinge, from the lower edge.\nat = \"{}\"\n", at);
  for (const auto& key : door_keys())
    if (key.section == "hinge" && key.name != "at") {
      if (explain)
        add_key(text, key);
      else if (key.fallback.front() != '(')
        text += fmt::format("{} = {}\n", key.name, key.fallback);
    }
}

std::string unit_text(const DoorKey& key)
{
  switch (key.value) {
  case ValueKind::schedule:
    return "pairs of " + allowed_units(Dimension::time) + "; " + allowed_units(key.kind);
  case ValueKind::curve:
    return "pairs of " + allowed_units(Dimension::temperature) + "; " + allowed_units(key.kind);
  case ValueKind::load_curve:
    return "pairs of " + allowed_units(Dimension::length) + "; " + allowed_units(key.kind);
  case ValueKind::row:
    return "list of " + allowed_units(key.kind);
  case ValueKind::quantity:
  case ValueKind::lengths:
    return allowed_units(key.kind);
  case ValueKind::play:
    return fmt::format("{}, or one of {}", allowed_units(key.kind), fmt::join(key.words, ", "));
  case ValueKind::number:
    return "plain";
  case ValueKind::count:
    return "whole number";
  default:
    return "";
  }
}

} // namespace

std::string starter_text()
{
  std::string text =
      "# A door for hangtrue. Every length, force and temperature carries its unit.\n"
      "# Check it with: hangtrue check THIS-FILE\n";
  for (const auto& section : door_sections()) {
    if (section.name == "hinge") {
      add_hinge(text, "5-1/4 in", true);
      add_hinge(text, "24-3/4 in", false);
      continue;
    }
    if (section.name == "stiffener") {
      text += "\n# Stiffeners, as many as there are:\n# [[stiffener]]\n# shape = \"flat bar\"\n"
              "# runs = \"across\"\n# at = \"15 in\"\n# width = \"1/4 in\"\n";
      continue;
    }
    if (section.name == "latch") {
      text += "\n# Latches, as many as there are, up to six:\n# [[latch]]\n# kind = \"wedge\"\n"
              "# edge = \"latch\"\n# at = \"4 in\"\n# draw = \"0 in\"\n";
      continue;
    }
    text += fmt::format("\n# {}\n[{}]\n", section.sentence, section.name);
    for (const auto& key : door_keys())
      if (key.section == section.name)
        add_key(text, key);
  }
  return text;
}

std::string door_file_reference()
{
  std::string text =
      "# The door file\n\n"
      "Made from the table of keys by `hangtrue keys`; do not edit by hand.\n\n"
      "A door file is a TOML text. Quantities are texts with their unit in the writing of the "
      "trade: `\"1-1/2 in\"`, `\"2 ft 6 in\"`, `\"38 mm\"`, `\"650 degF\"`, `\"128 kg/m^3\"`, "
      "`\"60 lbf\"`; a bare number where a unit is due is an error. A sign stands in front and "
      "belongs to the whole; a fraction behind a whole number is less than 1, and a part in a "
      "smaller "
      "unit less than one of the larger (`\"2 ft 6 in\"`, not `\"2 ft 14 in\"`). Ranges are shown "
      "in "
      "inches and pounds; what is shown is allowed.\n\n";
  text += fmt::format(
      "A file has up to {} KiB, a text or a quantity up to {} characters, a list up to {} entries; "
      "brackets stand within each other up to {} deep. Characters of a text that a terminal or a "
      "drawing would act on (controls, marks of writing direction, line separators, what is no "
      "character) become blanks. Of the faults of a file the first {} are said.\n",
      max_door_file_size / 1024, max_text_length, max_list_length, max_toml_depth,
      max_reported_faults);
  for (const auto& section : door_sections()) {
    text += fmt::format("\n## {}\n\n{}\n\n| key | unit or words | default | allowed | meaning |\n"
                        "|---|---|---|---|---|\n",
                        section.repeats() ? "[[" + section.name + "]]" : "[" + section.name + "]",
                        section.sentence);
    for (const auto& key : door_keys()) {
      if (key.section != section.name)
        continue;
      const std::string fallback =
          key.fallback.empty()
              ? "must be given"
              : (key.fallback.front() == '(' ? key.fallback : "`" + key.fallback + "`");
      text += fmt::format("| `{}` | {} | {} | {} | {} |\n", key.name, unit_text(key), fallback,
                          range_text(key, UnitSystem::us), key.sentence);
    }
  }
  return text;
}

} // namespace hangtrue::input
