// Variants of one door: keys of its file tried over lists and ranges, each variant a door file.
#pragma once

#include "cases/input/door_case.hpp"

#include <string>
#include <utility>
#include <vector>

namespace hangtrue
{

/// Values to try. Keys of one list move in step: `rows[i][k]` is the i-th value of `keys[k]` as a
/// TOML value. Lists are tried against each other.
struct TryList {
  std::vector<std::string> keys; ///< "hinge.pin_diameter" (every hinge) or "hinge[0].at"
  std::vector<std::vector<std::string>> rows;
};

/// Everything that is to be tried.
struct TryPlan {
  std::vector<TryList> lists;
  bool singly = false; ///< one list at a time, the rest as in the file, instead of the full table
};

/// One value of one variant: key and TOML value.
using Setting = std::pair<std::string, std::string>;

/// One variant: what sets it apart, its whole door file, and a name that follows from its content.
struct Variant {
  int number = 0; ///< from 1, in the order of the plan
  std::vector<Setting> settings;
  std::string text;
  std::string name;  ///< "v-" and 16 hexadecimal digits over text, program and libraries
  std::string fault; ///< why this door cannot be built (rules between its keys); else empty
};

/// Reads one list as written on the command line:
/// "hinge.pin_diameter: 1/2 in | 3/4 in | 1 in", "hinge[0].at & hinge[1].at: 4 in & 26 in | 6 in &
/// 24 in", "hinge.clearance: 0.004 in .. 0.02 in by 0.004 in" or ".. in 5" for five values.
/// Throws InputError.
TryList read_try(const std::string& text);

/// Adds a plan file: any number of [[try]] tables, whose keys are door keys in quotes and whose
/// values are lists, or ranges in quotes; `singly = true` at its top. Throws InputError.
void read_plan_file(const std::string& path, TryPlan& plan);

/// All variants of a door file's text. A wrong key or value throws InputError; a variant whose keys
/// contradict each other is kept with its `fault`, unless none can be built.
std::vector<Variant> make_variants(const std::string& door_text, const std::string& door_name,
                                   const TryPlan& plan);

/// Whether two doors that differ in this key only have the same panel, leaves and jamb.
bool leaves_the_panel(const std::string& key);

/// Indices of the variants in an order that keeps doors with the same panel, then pins, then bores
/// together, so that what was factored once is used again.
std::vector<int> working_order(const std::vector<Variant>& variants);

/// What sets a variant apart, in one line: "pin_diameter 3/4 in, end_float 1/16 in".
std::string settings_text(const Variant& variant);

} // namespace hangtrue
