// SPDX-License-Identifier: GPL-3.0-or-later
// The keys of a door file with their values, checked one by one, before a door is built from them.
#pragma once

#include "cases/input/door_case.hpp"
#include "cases/input/file_faults.hpp"

#include <cstddef>
#include <map>
#include <string>
#include <utility>
#include <vector>

namespace hangtrue::input
{

/// One value, in SI.
struct DoorValue {
  double number = 0.0;
  std::vector<double> list;
  std::vector<std::pair<double, double>> pairs; ///< of a schedule: s, degC
  std::string text;
  std::string written; ///< as the file or the default has it, in its own units
  bool flag = false;
  bool given = false;   ///< by the file, not a default
  bool follows = false; ///< not given, and the default depends on other keys
  FilePlace place;
};

/// All values of one section.
struct SectionValues {
  std::string section;
  FilePlace place;
  std::map<std::string, DoorValue> values;

  [[nodiscard]] const DoorValue& at(const std::string& key) const { return values.at(key); }
  [[nodiscard]] double number(const std::string& key) const { return values.at(key).number; }
  [[nodiscard]] const std::string& text(const std::string& key) const
  {
    return values.at(key).text;
  }
};

/// The whole file: sections once, `hinge` and `stiffener` as often as they occur.
struct DoorValues {
  std::map<std::string, std::vector<SectionValues>> sections;
  std::vector<FileFault> faults; ///< at most `max_reported_faults`, the first ones of the file
  std::size_t faults_more = 0;   ///< number of the others

  [[nodiscard]] const SectionValues& one(const std::string& section) const
  {
    return sections.at(section).front();
  }
};

/// Parses TOML and reads every key by the table of keys; faults are collected, not thrown. Tables
/// of limited number are counted before they are read. Texts are cleaned.
DoorValues read_values(const std::string& text);

} // namespace hangtrue::input
