// SPDX-License-Identifier: GPL-3.0-or-later
// The one table of door-file keys: it drives reading, checking, the starter file and the reference.
#pragma once

#include "cases/input/door_key.hpp"
#include "cases/input/units.hpp"

#include <cstddef>
#include <optional>
#include <string>
#include <vector>

namespace hangtrue::input
{

/// Greatest length of a text, and of a quantity as it is written: a title block has space for less.
constexpr std::size_t max_text_length = 120;

/// Greatest length of a list: a firing logged every half minute for a shift.
constexpr std::size_t max_list_length = 1000;

/// One section: its name, how often it may be there if it repeats (0: once), and a sentence.
struct DoorSection {
  std::string name;
  std::size_t max_count = 0;
  std::string sentence;

  [[nodiscard]] bool repeats() const { return max_count > 0; }
};

/// All sections of a door file in their order.
const std::vector<DoorSection>& door_sections();
/// All keys of a door file in the order of their sections.
const std::vector<DoorKey>& door_keys();

/// The key, or nothing.
const DoorKey* find_key(const std::string& section, const std::string& name);

/// The name nearest to `found` by edit distance.
std::string nearest(const std::string& found, const std::vector<std::string>& names);

/// The range of a key in the user's words, with its unit.
std::string range_text(const DoorKey& key, UnitSystem units);

/// The machining of a bore and the diametral play, m, of that word (common practice, no source):
/// nothing for an unknown word.
std::optional<double> play_of(const std::string& word);

} // namespace hangtrue::input
