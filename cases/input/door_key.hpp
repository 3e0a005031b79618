// SPDX-License-Identifier: GPL-3.0-or-later
// The definition of one key of the door file.
#pragma once

#include "cases/input/units.hpp"

#include <string>
#include <vector>

namespace hangtrue::input
{

/// What a key's value is.
enum class ValueKind {
  text,
  word,       ///< one of `words`
  quantity,   ///< a number with a unit, of `kind`
  lengths,    ///< one length, or a list of them
  play,       ///< a length, or a word for the machining of the bore
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
  Dimension kind = Dimension::length;
  std::string fallback;
  double minimum = 0.0;
  double maximum = 0.0;
  std::vector<std::string> words{};
  std::string sentence;
};

} // namespace hangtrue::input
