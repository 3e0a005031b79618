// SPDX-License-Identifier: GPL-3.0-or-later
#include "viz/page/page.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <numbers>

namespace hangtrue::page
{

namespace
{

// Thousandths of the size, from blank to tilde.
constexpr std::array<short, 95> widths{
    278, 278, 355, 556, 556, 889, 667, 191, 333, 333, 389, 584, 278, 333,  278, 278, 556, 556, 556,
    556, 556, 556, 556, 556, 556, 556, 278, 278, 584, 584, 584, 556, 1015, 667, 667, 722, 722, 667,
    611, 778, 722, 278, 500, 667, 556, 833, 722, 778, 667, 778, 722, 667,  611, 722, 667, 944, 667,
    667, 611, 278, 278, 278, 469, 556, 333, 556, 556, 500, 556, 556, 278,  556, 556, 222, 222, 500,
    222, 833, 556, 556, 556, 556, 333, 500, 278, 556, 500, 722, 500, 500,  500, 334, 260, 334, 584};
constexpr double capital = 0.716;    // of the size
constexpr double bold_factor = 1.07; // bold letters are wider by about this

bool begins_character(char c)
{
  return (static_cast<unsigned char>(c) & 0xC0U) != 0x80U;
}

// Thousandths of the size; a character beyond ASCII is counted with its first byte.
double character_width(char c)
{
  if (c >= ' ' && c <= '~')
    return widths.at(static_cast<std::size_t>(c - ' '));
  return begins_character(c) ? 600.0 : 0.0;
}

PagePoint along(PagePoint from, PagePoint to, double step)
{
  const double l = std::max(1e-9, std::hypot(to.x - from.x, to.y - from.y));
  return {from.x + step * (to.x - from.x) / l, from.y + step * (to.y - from.y) / l};
}

void head_at(Page& page, PagePoint tipped, PagePoint from, const Colour& colour, double size)
{
  const double half = std::tan(7.5 * std::numbers::pi / 180.0) * size;
  const PagePoint back = along(tipped, from, size);
  const double l = std::max(1e-9, std::hypot(from.x - tipped.x, from.y - tipped.y));
  const double nx = -(from.y - tipped.y) / l;
  const double ny = (from.x - tipped.x) / l;
  PathShape shape;
  shape.spots = {
      tipped, {back.x + half * nx, back.y + half * ny}, {back.x - half * nx, back.y - half * ny}};
  shape.closed = true;
  shape.fill = colour;
  page.shapes.push_back(shape);
}

} // namespace

double text_width(const std::string& text, double height, bool bold)
{
  double sum = 0.0;
  for (const char c : text)
    sum += character_width(c);
  return 1e-3 * sum * height / capital * (bold ? bold_factor : 1.0);
}

std::string truncated(const std::string& text, double width, double height, bool bold)
{
  const double one = 1e-3 * height / capital * (bold ? bold_factor : 1.0); // mm
  const double dots = text_width("...", height, bold);
  double sum = 0.0;    // of the characters up to here
  std::size_t end = 0; // of what fits beside the dots
  for (std::size_t i = 0; i < text.size(); ++i) {
    if (begins_character(text[i]) && sum + dots <= width)
      end = i;
    sum += one * character_width(text[i]);
    if (sum > width)
      return text.substr(0, end) + "...";
  }
  return text;
}

std::vector<std::string> wrapped(const std::string& text, double width, double height)
{
  std::vector<std::string> lines(1);
  std::size_t index = 0;
  while (index < text.size()) {
    const std::size_t end = std::min(text.find(' ', index), text.size());
    const std::string word = text.substr(index, end - index);
    std::string& last = lines.back();
    std::string longer = last;
    longer += last.empty() ? "" : " ";
    longer += word;
    if (last.empty() || text_width(longer, height) <= width)
      last = longer;
    else
      lines.push_back(word);
    index = end + 1;
  }
  for (auto& l : lines)
    l = truncated(l, width, height);
  return lines;
}

void line(Page& page, PagePoint from, PagePoint to, const Stroke& stroke)
{
  PathShape shape;
  shape.spots = {from, to};
  shape.stroke = stroke;
  page.shapes.push_back(shape);
}

void box(Page& page, PagePoint position, double width, double height,
         const std::optional<Colour>& fill, const std::optional<Stroke>& stroke)
{
  PathShape shape;
  shape.spots = {position,
                 {position.x + width, position.y},
                 {position.x + width, position.y + height},
                 {position.x, position.y + height}};
  shape.closed = true;
  shape.fill = fill;
  shape.stroke = stroke;
  page.shapes.push_back(shape);
}

void circle(Page& page, PagePoint middle, double radius, const std::optional<Colour>& fill,
            const std::optional<Stroke>& stroke)
{
  constexpr int sides = 48;
  PathShape shape;
  for (int i = 0; i < sides; ++i) {
    const double a = 2.0 * std::numbers::pi * i / sides;
    shape.spots.push_back({middle.x + radius * std::cos(a), middle.y + radius * std::sin(a)});
  }
  shape.closed = true;
  shape.fill = fill;
  shape.stroke = stroke;
  page.shapes.push_back(shape);
}

void arrow(Page& page, PagePoint from, PagePoint to, const Stroke& stroke, double head)
{
  line(page, from, along(to, from, 0.8 * head), stroke);
  head_at(page, to, from, stroke.colour, head);
}

void dimension(Page& page, PagePoint from, PagePoint to, double away, const std::string& text)
{
  const Stroke thin{ink(), 0.18, Dash::solid};
  const double l = std::max(1e-9, std::hypot(to.x - from.x, to.y - from.y));
  const double ux = (to.x - from.x) / l;
  const double uy = (to.y - from.y) / l;
  const double nx = uy; // to the left of the direction, y down
  const double ny = -ux;
  const double sign = away < 0.0 ? -1.0 : 1.0;
  const PagePoint a{from.x + away * nx, from.y + away * ny};
  const PagePoint b{to.x + away * nx, to.y + away * ny};
  for (const auto& [start, end] : {std::pair{from, a}, std::pair{to, b}})
    line(page, along(start, end, 0.8), along(end, start, -1.5), thin);
  constexpr double head = 2.2;
  const bool inside = l > 3.0 * head;
  if (inside) {
    line(page, a, b, thin);
    head_at(page, a, b, thin.colour, head);
    head_at(page, b, a, thin.colour, head);
  } else {
    arrow(page, along(a, b, -3.0 * head), a, thin, head);
    arrow(page, along(b, a, -3.0 * head), b, thin, head);
  }
  const PagePoint middle{0.5 * (a.x + b.x), 0.5 * (a.y + b.y)};
  const bool level = std::abs(uy) < 0.1;
  const double wide = text_width(text, letters);
  TextLabel words{middle, text, letters, TextAnchor::middle, false, 0.0, ink(), true};
  if (level) {
    words.position.y -= 1.0;
    if (!inside || wide > l - 2.0 * head) {
      words.position = {std::max(a.x, b.x) + (inside ? 1.5 : 3.0 * head + 1.0),
                        middle.y + 0.5 * letters};
      words.side = TextAnchor::left;
    }
  } else if (wide < l - 2.0 * head) { // along the line, read from the right
    words.turn = 90.0;
    words.position = {middle.x - 1.0, middle.y};
  } else {
    words.position = {middle.x + sign * nx * 1.8, middle.y + 0.5 * letters};
    words.side = sign * nx > 0.0 ? TextAnchor::left : TextAnchor::right;
  }
  page.labels.push_back(words);
}

} // namespace hangtrue::page
