// SPDX-License-Identifier: GPL-3.0-or-later
#include "cases/input/key_rules.hpp"

#include "cases/input/clean_text.hpp"
#include "cases/input/door_schema.hpp"
#include "cases/input/units.hpp"
#include "meshing/common/errors.hpp"

#include <fmt/format.h>
#include <fmt/ranges.h>

#include <algorithm>
#include <cmath>

namespace hangtrue::input
{

std::string KeyRules::allowed() const
{
  return range_text(key_, units_);
}

std::string KeyRules::text(std::string found) const
{
  const std::size_t length = character_count(found);
  if (length <= max_text_length)
    return found;
  throw InputError(fmt::format("found \"{}\", {} characters; allowed are up to {}; shorten it",
                               message_text(found), length, max_text_length));
}

std::string KeyRules::word(const std::string& found) const
{
  if (std::find(key_.words.begin(), key_.words.end(), found) != key_.words.end())
    return found;
  throw InputError(fmt::format("found \"{}\"; allowed is one of {}; write \"{}\" if that is meant",
                               message_text(found), allowed(), nearest(found, key_.words)));
}

double KeyRules::in_range(double value, const std::string& found) const
{
  const double slack = 1e-12 * std::max(std::abs(key_.minimum), std::abs(key_.maximum));
  if (value >= key_.minimum - slack && value <= key_.maximum + slack)
    return value;
  if (key_.value == ValueKind::play && value < key_.minimum)
    throw InputError(fmt::format("found {}: the pin does not go into its bore; allowed is {}; "
                                 "write how the bore is made ({}) or a length in that range",
                                 found, allowed(), fmt::join(key_.words, ", ")));
  throw InputError(
      fmt::format("found {}; allowed is {}; write a value in that range", found, allowed()));
}

double KeyRules::quantity(const std::string& found) const
{
  return in_range(parse_quantity(found, key_.kind), fmt::format("\"{}\"", message_text(found)));
}

double KeyRules::play(const std::string& found) const
{
  if (const auto known = play_of(found))
    return *known;
  const bool is_number = !found.empty() && found.find_first_of("0123456789") != std::string::npos;
  if (is_number)
    return quantity(found);
  throw InputError(
      fmt::format("found \"{}\"; allowed is one of {}, or a length; write \"{}\" if that is meant",
                  message_text(found), fmt::join(key_.words, ", "), nearest(found, key_.words)));
}

void KeyRules::list_length(std::size_t entries) const
{
  if (entries > max_list_length)
    throw InputError(fmt::format("found a list of {} entries; allowed are up to {}; take some out",
                                 entries, max_list_length));
}

std::pair<double, double> KeyRules::next_pair(const Pairs& before, const std::string& at,
                                              const std::string& then, Dimension first,
                                              Dimension second) const
{
  const double place = parse_quantity(at, first);
  if (!before.empty() && !(place > before.back().first))
    throw InputError(
        fmt::format("found \"{}\" after \"{}\": {}; allowed are rising {}; put the pairs in order",
                    message_text(at), format_short(before.back().first, first, units_),
                    first == Dimension::time ? "time runs backwards" : "it does not rise",
                    first == Dimension::time     ? "times"
                    : first == Dimension::length ? "squeezes"
                                                 : "temperatures"));
  return {place, in_range(parse_quantity(then, second), fmt::format("\"{}\"", message_text(then)))};
}

void KeyRules::load_curve(const Pairs& curve) const
{
  for (std::size_t i = 0; i < curve.size(); ++i) {
    const bool falls = i > 0 && !(curve[i].second > curve[i - 1].second);
    if (falls || curve[i].first < 0.0 || (i == 0 && curve[i].second != 0.0))
      throw InputError(fmt::format(
          "found {} at {}: {}; allowed are loads that rise with the squeeze, from none; measure "
          "that point again or take it out",
          format_short(curve[i].second, key_.kind, units_),
          format_short(curve[i].first, Dimension::length, units_),
          falls ? "the curve falls" : "it does not begin with no load at no squeeze"));
  }
}

} // namespace hangtrue::input
