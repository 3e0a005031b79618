// SPDX-License-Identifier: GPL-3.0-or-later
// Keys and values of a plan, as written on the command line or in a plan file.
#pragma once

#include "cases/compare/try_plan.hpp"

#include <string>
#include <vector>

namespace hangtrue::compare
{

/// A key of the door file in the writing of a plan: section, index (-1 for all), name.
struct SweptKey {
  std::string written; ///< "hinge[0].at"
  std::string section;
  int index = -1;
  std::string name;
};

/// Parses a key. Throws InputError when the door file knows no such key.
SweptKey read_key(const std::string& written);

/// TOML values of one entry of a list: the value itself, or all values of a range "a .. b by c" or
/// "a .. b in n". Throws InputError.
std::vector<std::string> read_entry(const SweptKey& key, const std::string& text);

/// Reads one list as written on the command line:
/// "hinge.pin_diameter: 1/2 in | 3/4 in | 1 in", "hinge[0].at & hinge[1].at: 4 in & 26 in | 6 in &
/// 24 in", "hinge.clearance: 0.004 in .. 0.02 in by 0.004 in" or ".. in 5" for five values.
/// Throws InputError.
ParameterSweep read_sweep(const std::string& text);

/// Adds a plan file: any number of [[try]] tables, whose keys are door keys in quotes and whose
/// values are lists, or ranges in quotes; `singly = true` at its top. Throws InputError.
void read_plan_file(const std::string& path, SweepPlan& plan);

} // namespace hangtrue::compare
