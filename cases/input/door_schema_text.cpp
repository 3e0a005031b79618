// SPDX-License-Identifier: GPL-3.0-or-later
// Texts on keys for messages: nearest names, ranges, words for a play.
#include "cases/input/door_schema.hpp"
#include "cases/input/units.hpp"

#include <fmt/format.h>
#include <fmt/ranges.h>

#include <algorithm>
#include <limits>
#include <numeric>

namespace hangtrue::input
{

namespace
{

using unit::inch;

// Levenshtein distance.
std::size_t distance(const std::string& a, const std::string& b)
{
  std::vector<std::size_t> row(b.size() + 1);
  std::iota(row.begin(), row.end(), std::size_t{0});
  for (std::size_t i = 1; i <= a.size(); ++i) {
    std::size_t diagonal = row[0];
    row[0] = i;
    for (std::size_t j = 1; j <= b.size(); ++j) {
      const std::size_t change = diagonal + (a[i - 1] == b[j - 1] ? 0 : 1);
      diagonal = row[j];
      row[j] = std::min({row[j] + 1, row[j - 1] + 1, change});
    }
  }
  return row.back();
}

} // namespace

std::string nearest(const std::string& found, const std::vector<std::string>& names)
{
  std::string best;
  std::size_t minimum = std::numeric_limits<std::size_t>::max();
  // A long text is no slip of the pen; its beginning is enough to guess from.
  const std::string start = found.substr(0, 60);
  for (const auto& name : names)
    if (const std::size_t d = distance(start, name); d < minimum) {
      minimum = d;
      best = name;
    }
  return best;
}

std::string range_text(const DoorKey& key, UnitSystem units)
{
  switch (key.value) {
  case ValueKind::text:
    return fmt::format("up to {} characters", max_text_length);
  case ValueKind::flag:
    return "true or false";
  case ValueKind::count:
  case ValueKind::number:
    return fmt::format("{} to {}", key.minimum, key.maximum);
  case ValueKind::word:
    return fmt::format("{}", fmt::join(key.words, ", "));
  default:
    return fmt::format("{} to {}", format_bound(key.minimum, key.kind, units, Bound::minimum),
                       format_bound(key.maximum, key.kind, units, Bound::maximum));
  }
}

std::optional<double> play_of(const std::string& word)
{
  if (word == "reamed")
    return 0.0035 * inch;
  if (word == "drilled")
    return 0.018 * inch;
  if (word == "drilled loose")
    return 0.033 * inch;
  if (word == "pipe")
    return 0.08 * inch;
  return std::nullopt;
}

} // namespace hangtrue::input
