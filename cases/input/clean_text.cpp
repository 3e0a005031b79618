// SPDX-License-Identifier: GPL-3.0-or-later
#include "cases/input/clean_text.hpp"

#include <algorithm>
#include <array>

namespace hangtrue::input
{

namespace
{

// One character at the front of a text: its code point and bytes; 0 bytes for what is not UTF-8.
struct Decoded {
  char32_t point = 0;
  std::size_t bytes = 0;
};

// Table 3-7 of Unicode 15: shortest forms only, no surrogates, nothing beyond U+10FFFF.
Decoded decode(std::string_view text)
{
  const auto byte = [&](std::size_t i) { return static_cast<unsigned char>(text[i]); };
  const unsigned char first = byte(0);
  if (first < 0x80U)
    return {first, 1};
  const std::size_t bytes = first >= 0xF0U ? 4 : first >= 0xE0U ? 3 : 2;
  if (first < 0xC2U || first > 0xF4U || text.size() < bytes)
    return {};
  char32_t point = first & (0xFFU >> (bytes + 1));
  for (std::size_t i = 1; i < bytes; ++i) {
    if ((byte(i) & 0xC0U) != 0x80U)
      return {};
    point = (point << 6U) | (byte(i) & 0x3FU);
  }
  constexpr std::array<char32_t, 5> minimum{0, 0, 0x80, 0x800, 0x10000};
  const bool surrogate = point >= 0xD800 && point <= 0xDFFF;
  if (point < minimum.at(bytes) || point > 0x10FFFF || surrogate)
    return {};
  return {point, bytes};
}

struct Range {
  char32_t from;
  char32_t to;
};

constexpr std::array<Range, 15> unwanted{{{0x0000, 0x001F},
                                          {0x007F, 0x009F},
                                          {0x061C, 0x061C},
                                          {0x200B, 0x200B},
                                          {0x200E, 0x200F},
                                          {0x2028, 0x2029},
                                          {0x202A, 0x202E},
                                          {0x2060, 0x2064},
                                          {0x2066, 0x2069},
                                          {0x206A, 0x206F},
                                          {0xFDD0, 0xFDEF},
                                          {0xFEFF, 0xFEFF},
                                          {0xFFF9, 0xFFFB},
                                          {0xFFFE, 0xFFFF},
                                          {0xE0000, 0xE007F}}};

bool is_unwanted(char32_t point)
{
  const bool noncharacter = (point & 0xFFFEU) == 0xFFFEU; // the last two of every plane
  return noncharacter || std::any_of(unwanted.begin(), unwanted.end(), [&](const Range& r) {
           return point >= r.from && point <= r.to;
         });
}

std::string cleaned(std::string_view text, bool lines)
{
  std::string clean;
  clean.reserve(text.size());
  for (std::size_t i = 0; i < text.size();) {
    const Decoded next = decode(text.substr(i));
    if (next.bytes == 0)
      clean += "\xEF\xBF\xBD"; // U+FFFD
    else if (is_unwanted(next.point) && !(lines && next.point == U'\n'))
      clean += ' ';
    else
      clean += text.substr(i, next.bytes);
    i += std::max<std::size_t>(1, next.bytes);
  }
  return clean;
}

} // namespace

std::string clean_text(std::string_view text)
{
  return cleaned(text, false);
}

std::string clean_lines(std::string_view text)
{
  return cleaned(text, true);
}

std::size_t character_count(std::string_view text)
{
  return static_cast<std::size_t>(std::count_if(text.begin(), text.end(), [](char c) {
    return (static_cast<unsigned char>(c) & 0xC0U) != 0x80U; // no continuation byte
  }));
}

std::string message_text(std::string_view text, std::size_t maximum)
{
  // A message needs its beginning only; what cleaning adds comes from a bounded number of bytes.
  std::string shown = clean_text(text.substr(0, maximum + 4));
  if (shown.size() <= maximum && text.size() <= maximum + 4)
    return shown;
  std::size_t end = std::min(shown.size(), maximum - 3);
  while (end > 0 && end < shown.size() && (static_cast<unsigned char>(shown[end]) & 0xC0U) == 0x80U)
    --end; // a continuation byte of UTF-8
  return shown.substr(0, end) + "...";
}

} // namespace hangtrue::input
