// SPDX-License-Identifier: GPL-3.0-or-later
#include "viz/page/escaped_xml.hpp"

#include <optional>
#include <string_view>

namespace hangtrue::page
{

namespace
{

// A character of UTF-8 and its bytes.
struct Character {
  char32_t code = 0;
  std::string_view bytes;
};

// The character at the start of `text`, or nothing when its bytes are none (RFC 3629, section 4: no
// longer form than needed, no surrogate, nothing above U+10FFFF).
std::optional<Character> first_character(std::string_view text)
{
  const auto byte = [&](std::size_t i) { return static_cast<unsigned char>(text[i]); };
  const unsigned char head = byte(0);
  if (head < 0x80U)
    return Character{head, text.substr(0, 1)};
  const std::size_t size = head >= 0xF0U ? 4 : head >= 0xE0U ? 3 : 2;
  if (head < 0xC2U || head > 0xF4U || text.size() < size)
    return std::nullopt;
  char32_t code = head & (0x7FU >> size);
  for (std::size_t i = 1; i < size; ++i) {
    if ((byte(i) & 0xC0U) != 0x80U)
      return std::nullopt;
    code = (code << 6U) | (byte(i) & 0x3FU);
  }
  constexpr char32_t least_of_three = 0x800;
  constexpr char32_t least_of_four = 0x10000;
  if ((size == 3 && code < least_of_three) || (size == 4 && code < least_of_four) ||
      (code >= 0xD800 && code <= 0xDFFF) || code > 0x10FFFF)
    return std::nullopt;
  return Character{code, text.substr(0, size)};
}

// Ends of lines and paragraphs: XML 1.0 would allow most of them, but a line of a figure or of the
// sheet is one line, and some PDF writers end at a paragraph (U+2029) within one.
bool ends_a_line(char32_t c)
{
  return c == U'\t' || c == U'\n' || c == 0x0B || c == 0x0C || c == U'\r' || c == 0x85 ||
         c == 0x2028 || c == 0x2029;
}

// Not allowed in XML (XML 1.0, 2.2 Characters, with the controls and noncharacters that it
// discourages), or reverses the order of the text around it (Unicode Standard Annex 9, 2: explicit
// directional formatting characters and implicit marks).
bool is_dropped(char32_t c)
{
  const bool control = c < 0x20 || (c >= 0x7F && c <= 0x9F);
  const bool no_character = (c & 0xFFFE) == 0xFFFE || (c >= 0xFDD0 && c <= 0xFDEF);
  const bool turns = c == 0x061C || c == 0x200E || c == 0x200F || (c >= 0x202A && c <= 0x202E) ||
                     (c >= 0x2066 && c <= 0x2069);
  return control || no_character || turns;
}

void add_character(std::string& safe, const Character& c)
{
  switch (c.code) {
  case U'&':
    safe += "&amp;";
    break;
  case U'<':
    safe += "&lt;";
    break;
  case U'>':
    safe += "&gt;";
    break;
  case U'"':
    safe += "&quot;";
    break;
  case U'\'':
    safe += "&#39;";
    break;
  default:
    safe += c.bytes;
  }
}

} // namespace

std::string escaped_xml(const std::string& text)
{
  std::string safe;
  for (std::string_view rest = text; !rest.empty();) {
    const auto c = first_character(rest);
    rest.remove_prefix(c ? c->bytes.size() : 1);
    if (!c)
      safe += "\uFFFD"; // the sign for what is no character
    else if (ends_a_line(c->code))
      safe += ' ';
    else if (!is_dropped(c->code))
      add_character(safe, *c);
  }
  return safe;
}

} // namespace hangtrue::page
