// SPDX-License-Identifier: GPL-3.0-or-later
// A figure on paper as plain values: pictures below, shapes above them, text on top.
//
// Positions and sizes are in mm on the page, x to the right, y down. Letters have the height of
// their capitals, as drawings give it (ISO 3098); lines the widths of ISO 128 (0.18, 0.25, 0.35,
// 0.5, 0.7 mm).
#pragma once

#include "viz/page/escaped_xml.hpp"
#include "viz/page/palette.hpp"

#include <optional>
#include <string>
#include <vector>

namespace hangtrue::page
{

/// A point on the page, mm.
struct PagePoint {
  double x = 0.0;
  double y = 0.0;
};

/// How a line is broken (ISO 128-2: chain for axes).
enum class Dash { solid, dashed, chain };

/// Style of a line.
struct Stroke {
  Colour colour = ink();
  double width = 0.25; ///< mm
  Dash dash = Dash::solid;
};

/// A line or an area.
struct PathShape {
  std::vector<PagePoint> spots;
  bool closed = false;
  std::optional<Colour> fill;
  double cover = 1.0; ///< of the fill: 1 hides what is below
  std::optional<Stroke> stroke;
};

/// Which end of a text stands at its place.
enum class TextAnchor { left, middle, right };

/// One line of text.
struct TextLabel {
  PagePoint position; ///< on the base line: its left end, middle or right end
  std::string text;
  double height = 2.5; ///< mm, of capitals
  TextAnchor side = TextAnchor::left;
  bool bold = false;
  double turn = 0.0; ///< deg, against the clock
  Colour colour = ink();
  bool rim = false; ///< a white outline, for text across lines or pictures
};

/// Dots of a picture, three bytes each, from the upper left.
struct Raster {
  int width = 0;
  int height = 0;
  std::vector<unsigned char> rgb;
};

/// A picture that fills a rectangle of the page.
struct Picture {
  PagePoint position; ///< upper left
  double width = 0.0;
  double height = 0.0;
  Raster raster;
};

/// A page in mm: its pictures, over them lines and areas, over these texts.
struct Page {
  double width = 180.0;
  double height = 120.0;
  std::vector<Picture> pictures;
  std::vector<PathShape> shapes;
  std::vector<TextLabel> labels;
};

/// Heights of letters, mm.
inline constexpr double small_letters = 2.0;
/// Height of common letters, mm.
inline constexpr double letters = 2.5;
/// Height of headings, mm.
inline constexpr double headings = 3.5;

/// Width of a text, mm, in a face with the widths of Helvetica (character widths of the Adobe font
/// metrics of the base fonts, from memory); other characters count as 0.6 of the size.
double text_width(const std::string& text, double height, bool bold = false);

/// The text cut to a width, mm, with "..." where it is cut.
std::string truncated(const std::string& text, double width, double height, bool bold = false);

/// The text broken into lines between words, each at most `width` mm.
std::vector<std::string> wrapped(const std::string& text, double width, double height);

/// Building blocks of figures.
void line(Page& page, PagePoint from, PagePoint to, const Stroke& stroke);
/// A rectangle, mm.
void box(Page& page, PagePoint upper_left, double width, double height,
         const std::optional<Colour>& fill, const std::optional<Stroke>& stroke);
/// A circle, mm.
void circle(Page& page, PagePoint middle, double radius, const std::optional<Colour>& fill,
            const std::optional<Stroke>& stroke);

/// A line with a slim filled head at `to` (ISO 129-1: head of 15 degrees).
void arrow(Page& page, PagePoint from, PagePoint to, const Stroke& stroke, double head = 2.5);

/// A dimension between two points, drawn `away` mm from them (to the left of the direction from
/// `from` to `to` when positive) with extension lines; arrowheads are outside where there is no
/// space. The text is above the line, or beside it where it does not fit.
void dimension(Page& page, PagePoint from, PagePoint to, double away, const std::string& text);

/// "#...": figure as an SVG text; everything written is escaped. Letters are text, in the first
/// of Liberation Sans, Arial and Helvetica that the reader has.
std::string page_svg(const Page& page);

} // namespace hangtrue::page
