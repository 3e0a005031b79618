// SPDX-License-Identifier: GPL-3.0-or-later
// Checks that a value of the door file obeys the rules of its key.
#pragma once

#include "cases/input/door_key.hpp"

#include <cstddef>
#include <string>
#include <utility>
#include <vector>

namespace hangtrue::input
{

/// The rules of one key, which must outlive them. All throw InputError with found, allowed and
/// repair where a value breaks them; quantities are in SI.
class KeyRules
{
public:
  using Pairs = std::vector<std::pair<double, double>>;

  KeyRules(const DoorKey& key, UnitSystem units) : key_(key), units_(units) {}

  /// The range in the user's words, with its unit.
  [[nodiscard]] std::string allowed() const;

  /// The text, no longer than `max_text_length`.
  [[nodiscard]] std::string text(std::string found) const;
  /// One of the words of the key.
  [[nodiscard]] std::string word(const std::string& found) const;
  /// A value as it was `found`, within the range.
  [[nodiscard]] double in_range(double value, const std::string& found) const;
  /// A text such as "38 mm".
  [[nodiscard]] double quantity(const std::string& found) const;
  /// The diametral play of a bore, m: a length, or a word for its machining.
  [[nodiscard]] double play(const std::string& found) const;
  /// The number of entries of a list.
  void list_length(std::size_t entries) const;
  /// A pair behind those of a list, of dimensions `first` and `second`, its first value rising.
  [[nodiscard]] std::pair<double, double> next_pair(const Pairs& before, const std::string& at,
                                                    const std::string& then, Dimension first,
                                                    Dimension second) const;
  /// Squeezes and loads that rise together from zero: a gasket whose load falls with squeeze is no
  /// gasket.
  void load_curve(const Pairs& curve) const;

private:
  const DoorKey& key_;
  UnitSystem units_;
};

} // namespace hangtrue::input
