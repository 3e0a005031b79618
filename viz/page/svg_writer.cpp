// SPDX-License-Identifier: GPL-3.0-or-later
#include "viz/page/page.hpp"
#include "viz/page/raster_writer.hpp"

#include <fmt/format.h>

namespace hangtrue::page
{

namespace
{

constexpr double capital = 0.716; // height of capitals over size

std::string stroke_text(const std::optional<Stroke>& stroke)
{
  if (!stroke)
    return "stroke=\"none\"";
  std::string text =
      fmt::format("stroke=\"{}\" stroke-width=\"{:.3g}\"", hex(stroke->colour), stroke->width);
  if (stroke->dash == Dash::dashed)
    text += " stroke-dasharray=\"2 1.2\"";
  if (stroke->dash == Dash::chain)
    text += " stroke-dasharray=\"5 1 0.6 1\"";
  return text;
}

void add_shape(std::string& svg, const PathShape& s)
{
  svg += s.closed ? "<polygon points=\"" : "<polyline points=\"";
  for (std::size_t i = 0; i < s.spots.size(); ++i)
    svg += fmt::format("{}{:.2f},{:.2f}", i == 0 ? "" : " ", s.spots[i].x, s.spots[i].y);
  svg += fmt::format("\" fill=\"{}\"", s.fill ? hex(*s.fill) : "none");
  if (s.fill && s.cover < 1.0)
    svg += fmt::format(" fill-opacity=\"{:.2f}\"", s.cover);
  svg += fmt::format(" {} stroke-linejoin=\"round\"/>\n", stroke_text(s.stroke));
}

const char* anchor(TextAnchor side)
{
  return side == TextAnchor::left ? "start" : side == TextAnchor::middle ? "middle" : "end";
}

void add_label(std::string& svg, const TextLabel& w)
{
  svg += fmt::format("<text x=\"{:.2f}\" y=\"{:.2f}\" font-size=\"{:.2f}\" fill=\"{}\"",
                     w.position.x, w.position.y, w.height / capital, hex(w.colour));
  if (w.side != TextAnchor::left)
    svg += fmt::format(" text-anchor=\"{}\"", anchor(w.side));
  if (w.bold)
    svg += " font-weight=\"bold\"";
  if (w.text.rfind(' ', 0) == 0) // else blanks at the start are dropped
    svg += " xml:space=\"preserve\"";
  if (w.turn != 0.0)
    svg += fmt::format(" transform=\"rotate({:.1f} {:.2f} {:.2f})\"", -w.turn, w.position.x,
                       w.position.y);
  // The outline as a copy below: not every reader of SVG knows the order of painting.
  const std::string rest = fmt::format(">{}</text>\n", escaped_xml(w.text));
  if (w.rim) {
    const std::size_t start = svg.rfind("<text ");
    const std::string head = svg.substr(start);
    svg += " stroke=\"#ffffff\" stroke-width=\"0.9\" stroke-linejoin=\"round\"" + rest + head;
  }
  svg += rest;
}

} // namespace

std::string page_svg(const Page& page)
{
  std::string svg = fmt::format(
      "<svg xmlns=\"http://www.w3.org/2000/svg\" xmlns:xlink=\"http://www.w3.org/1999/xlink\" "
      "width=\"{0:.1f}mm\" height=\"{1:.1f}mm\" viewBox=\"0 0 {0:.1f} {1:.1f}\" "
      "font-family=\"'Liberation Sans', Arial, Helvetica, sans-serif\">\n"
      "<rect width=\"{0:.1f}\" height=\"{1:.1f}\" fill=\"#ffffff\"/>\n",
      page.width, page.height);
  for (const auto& p : page.pictures)
    svg += fmt::format("<image x=\"{:.2f}\" y=\"{:.2f}\" width=\"{:.2f}\" height=\"{:.2f}\" "
                       "preserveAspectRatio=\"none\" xlink:href=\"data:image/png;base64,{}\"/>\n",
                       p.position.x, p.position.y, p.width, p.height, base64(png_bytes(p.raster)));
  for (const auto& s : page.shapes)
    add_shape(svg, s);
  for (const auto& w : page.labels)
    add_label(svg, w);
  return svg + "</svg>\n";
}

} // namespace hangtrue::page
