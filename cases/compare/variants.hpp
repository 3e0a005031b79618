// SPDX-License-Identifier: GPL-3.0-or-later
// Variants of one door: keys of its file tried over lists and ranges, each variant a door file.
#pragma once

#include "cases/compare/try_plan.hpp"

#include <string>
#include <utility>
#include <vector>

namespace hangtrue::compare
{

/// One value of one variant: key and TOML value.
using KeyValue = std::pair<std::string, std::string>;

/// One variant: its values, its whole door file, and a name that follows from its content.
struct Variant {
  int number = 0; ///< from 1, in the order of the plan
  std::vector<KeyValue> settings;
  std::string text;
  std::string name;  ///< "v-" and 16 hexadecimal digits over text, program and libraries
  std::string fault; ///< why this door cannot be built (rules between its keys); else empty
};

/// All variants of a door file's text. A wrong key or value throws InputError; a variant whose keys
/// contradict each other stays in the list with its `fault`, unless none can be built.
std::vector<Variant> make_variants(const std::string& door_text, const std::string& door_name,
                                   const SweepPlan& plan);

/// Whether two doors that differ in this key only have the same panel, leaves and jamb.
bool keeps_panel(const std::string& key);

/// Indices of the variants in a cache-friendly order: doors with the same panel, then pins, then
/// bores are adjacent, so that factorizations are reused.
std::vector<int> cache_friendly_order(const std::vector<Variant>& variants);

/// What sets a variant apart, in one line: "pin_diameter 3/4 in, end_float 1/16 in".
std::string key_values_text(const Variant& variant);

} // namespace hangtrue::compare
