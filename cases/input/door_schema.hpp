// The one table of door-file keys: it drives reading, checking, the starter file and the reference.
#pragma once

#include "cases/input/units.hpp"

#include <cstddef>
#include <optional>
#include <string>
#include <vector>

namespace hangtrue
{

/// Most characters of a text, and of a quantity as it is written: a title block has room for less.
constexpr std::size_t longest_text = 120;

/// Most entries of a list: a firing read off every half minute for a shift.
constexpr std::size_t longest_list = 1000;

/// What a key's value is.
enum class ValueKind {
  text,
  word,       ///< one of `words`
  quantity,   ///< a number with a unit, of `kind`
  lengths,    ///< one length, or a list of them
  play,       ///< a length, or a word that says how the bore is made
  number,     ///< a plain number
  count,      ///< a whole number
  schedule,   ///< a list of pairs of time and temperature
  curve,      ///< a list of pairs of temperature and a quantity of `kind`
  load_curve, ///< a list of pairs of length and a quantity of `kind`, both rising
  row,        ///< a list of quantities of `kind`, rising or not
  flag        ///< true or false
};

/// One key. Ranges are in SI (or plain numbers); an empty `fallback` means that the key is due, and
/// one in round brackets that it follows from other keys as said there.
struct DoorKey {
  std::string section; ///< "hinge" for every table of [[hinge]]
  std::string name;
  ValueKind value = ValueKind::text;
  Kind kind = Kind::length;
  std::string fallback;
  double least = 0.0;
  double most = 0.0;
  std::vector<std::string> words;
  std::string sentence;
};

/// One section: its name, how often it may be there if it repeats (0: once), and a sentence.
struct DoorSection {
  std::string name;
  std::size_t most = 0;
  std::string sentence;

  [[nodiscard]] bool repeats() const { return most > 0; }
};

const std::vector<DoorSection>& door_sections();
const std::vector<DoorKey>& door_keys();

/// The key, or nothing.
const DoorKey* find_key(const std::string& section, const std::string& name);

/// The name nearest to `found` by edit distance.
std::string nearest(const std::string& found, const std::vector<std::string>& names);

/// The range of a key in the user's words, with its unit.
std::string range_text(const DoorKey& key, Units units);

/// How a bore is made and the diametral play, m, that goes with the word (common practice, no
/// source): nothing for a word that is not known.
std::optional<double> play_of(const std::string& word);

} // namespace hangtrue
