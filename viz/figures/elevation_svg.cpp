// SPDX-License-Identifier: GPL-3.0-or-later
#include "viz/figures/elevation_svg.hpp"

#include "solver/qoi/corner_displacements.hpp"
#include "viz/page/escaped_xml.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <vector>

namespace hangtrue::figures
{

namespace
{

// Ink on white: two greys and one dark blue-green, all legible in grey print.
constexpr const char* ink = "#22303a";
constexpr const char* faint = "#98a3aa";
constexpr const char* moved = "#0b6e75";
constexpr const char* load = "#8a4b14";

// Bytes that begin a letter in UTF-8.
std::size_t count_letters(const std::string& text)
{
  return static_cast<std::size_t>(std::count_if(text.begin(), text.end(), [](char c) {
    return (static_cast<unsigned char>(c) & 0xC0U) != 0x80U;
  }));
}

struct Point {
  double x;
  double y;
};

// Page units: the door's longer side is 420 units; the hinge edge is on the left, z upwards.
constexpr double margin = 24.0;
class Page
{
public:
  explicit Page(const door::Door& door)
      : unit_(420.0 / std::max(door.panel.width, door.panel.height)), height_(door.panel.height)
  {
    width = std::max(230.0 + door.panel.width * unit_ + 250.0, 660.0); // space for the headings
    height = 125.0 + door.panel.height * unit_ + 130.0;
  }
  double width = 0.0;
  double height = 0.0;

  [[nodiscard]] Point at(double x, double z) const
  {
    return {230.0 + x * unit_, 125.0 + (height_ - z) * unit_};
  }
  void line(Point a, Point b, const char* colour, double weight, const std::string& extra = "")
  {
    body +=
        fmt::format("<line x1=\"{:.1f}\" y1=\"{:.1f}\" x2=\"{:.1f}\" y2=\"{:.1f}\" stroke=\"{}\" "
                    "stroke-width=\"{}\" {}/>\n",
                    a.x, a.y, b.x, b.y, colour, weight, extra);
  }
  void polygon(const std::vector<Point>& points, const char* colour, double weight,
               const std::string& extra)
  {
    body += "<polygon points=\"";
    for (const auto& p : points)
      body += fmt::format("{:.1f},{:.1f} ", p.x, p.y);
    body += fmt::format("\" stroke=\"{}\" stroke-width=\"{}\" {}/>\n", colour, weight, extra);
  }
  void text(Point at, const std::string& words, const char* anchor, double size,
            const char* colour = ink)
  {
    // A white outline keeps text legible where it crosses a line.
    words_ += fmt::format("<text x=\"{:.1f}\" y=\"{:.1f}\" font-size=\"{}\" text-anchor=\"{}\" "
                          "fill=\"{}\" paint-order=\"stroke\" stroke=\"#ffffff\" "
                          "stroke-width=\"3\">{}</text>\n",
                          at.x, at.y, size, anchor, colour, page::escaped_xml(words));
  }
  // A line with a solid head at its end.
  void arrow(Point from, Point to, const char* colour)
  {
    line(from, to, colour, 1.6);
    const double dx = to.x - from.x;
    const double dy = to.y - from.y;
    const double l = std::max(1e-9, std::hypot(dx, dy));
    const Point back{to.x - 9.0 * dx / l, to.y - 9.0 * dy / l};
    polygon({to,
             {back.x - 3.5 * dy / l, back.y + 3.5 * dx / l},
             {back.x + 3.5 * dy / l, back.y - 3.5 * dx / l}},
            colour, 0.5, fmt::format("fill=\"{}\"", colour));
  }
  [[nodiscard]] std::string whole() const { return body + words_; } // text on top
  std::string body;

private:
  std::string words_;
  double unit_;
  double height_;
};

const qoi::CornerDisplacement& corner(const analysis::OpenDoorResult& d, qoi::DoorCorner which)
{
  return *std::find_if(d.corners.begin(), d.corners.end(),
                       [&](const qoi::CornerDisplacement& c) { return c.corner == which; });
}

void draw_outline(Page& page, const door::Door& door, const analysis::OpenDoorResult& d,
                  double scale)
{
  const double w = door.panel.width;
  const double h = door.panel.height;
  page.polygon({page.at(0, 0), page.at(w, 0), page.at(w, h), page.at(0, h)}, faint, 1.0,
               "fill=\"none\" stroke-dasharray=\"6 4\"");
  auto shifted = [&](qoi::DoorCorner which, double x, double z) {
    const Vec3& m = corner(d, which).move;
    return page.at(x + scale * m.x, z + scale * m.z);
  };
  page.polygon(
      {shifted(qoi::DoorCorner::lower_hinge, 0, 0), shifted(qoi::DoorCorner::lower_latch, w, 0),
       shifted(qoi::DoorCorner::upper_latch, w, h), shifted(qoi::DoorCorner::upper_hinge, 0, h)},
      moved, 2.2, "fill=\"#0b6e75\" fill-opacity=\"0.05\"");
}

// The lower latch corner before and after, with the drop written between.
void dimension_drop(Page& page, const door::Door& door, const analysis::OpenDoorResult& d,
                    double scale, const ElevationFormatter& words)
{
  const double w = door.panel.width;
  const Vec3& m = corner(d, qoi::DoorCorner::lower_latch).move;
  const Point drawn = page.at(w, 0);
  const Point now = page.at(w + scale * m.x, scale * m.z);
  const double right = std::max(drawn.x, now.x) + 40.0;
  page.line({drawn.x + 4, drawn.y}, {right + 8, drawn.y}, ink, 0.7);
  page.line({now.x + 4, now.y}, {right + 8, now.y}, ink, 0.7);
  if (std::abs(now.y - drawn.y) > 24.0) {
    page.arrow({right, 0.5 * (drawn.y + now.y)}, {right, drawn.y}, ink);
    page.arrow({right, 0.5 * (drawn.y + now.y)}, {right, now.y}, ink);
  } else { // no space between: arrows from outside
    page.arrow({right, drawn.y - 24.0}, {right, drawn.y}, ink);
    page.arrow({right, now.y + 24.0}, {right, now.y}, ink);
  }
  page.text({right + 14, 0.5 * (drawn.y + now.y) - 3}, "drop", "start", 14);
  page.text({right + 14, 0.5 * (drawn.y + now.y) + 14}, words.length(-m.z), "start", 14);
}

// Force of each door half on the door, at its hinge.
void draw_hinges(Page& page, const door::Door& door, const analysis::OpenDoorResult& d,
                 const ElevationFormatter& words)
{
  std::vector<Vec3> on_door(door.hinges.size());
  double greatest = 1e-9;
  for (const auto& k : d.knuckles)
    if (k.owner == door::KnuckleOwner::door)
      on_door[k.hinge] += k.pin_force + Vec3{0.0, 0.0, k.thrust};
  for (const auto& f : on_door)
    greatest = std::max({greatest, std::abs(f.x), std::abs(f.y), std::abs(f.z)});
  for (std::size_t h = 0; h < door.hinges.size(); ++h) {
    const door::Hinge& hinge = door.hinges[h];
    const door::Span span = door::hinge_span(hinge);
    const Point a = page.at(-0.5 * door.reveal, span.from);
    const Point b = page.at(-0.5 * door.reveal, span.to);
    page.line(a, b, ink, 7.0, "stroke-linecap=\"butt\"");
    const Point middle = page.at(-0.5 * door.reveal, hinge.position);
    const Vec3& f = on_door[h];
    if (std::abs(f.x) > 0.02 * greatest) {
      const double length = 30.0 + 60.0 * std::abs(f.x) / greatest;
      const Point tail{middle.x - 14.0 - (f.x > 0.0 ? length : 0.0), middle.y};
      const Point head{middle.x - 14.0 - (f.x > 0.0 ? 0.0 : length), middle.y};
      page.arrow(tail, head, load);
      page.text({middle.x - 20.0 - length, middle.y + 5.0}, words.force(std::abs(f.x)), "end", 13,
                load);
    }
    if (norm(f) > 50.0 * std::max(std::abs(f.x), std::abs(f.z))) { // a flap: into the page
      page.text({middle.x - 14.0, middle.y - 3.0}, words.force(norm(f)), "end", 13, load);
      page.text({middle.x - 14.0, middle.y + 13.0}, "square to the face", "end", 13, load);
      continue;
    }
    if (std::abs(f.z) > 0.02 * greatest) {
      const double length = 24.0 + 40.0 * std::abs(f.z) / greatest;
      const Point foot = page.at(-0.5 * door.reveal, span.from);
      const Point start{foot.x, foot.y + length + 4.0};
      const Point tipped{foot.x, foot.y + 4.0};
      if (f.z > 0.0)
        page.arrow(start, tipped, load);
      else
        page.arrow(tipped, start, load);
      page.text({foot.x, foot.y + length + 20.0}, words.force(std::abs(f.z)), "middle", 13, load);
    }
  }
}

// Text above the mark and below the arrow, inside the outline of all but very narrow doors.
void draw_weight(Page& page, const door::Door& door, const analysis::OpenDoorResult& d,
                 const ElevationFormatter& words)
{
  const Point g = page.at(d.centre_of_gravity.x, d.centre_of_gravity.z);
  page.line({g.x - 9, g.y}, {g.x + 9, g.y}, ink, 1.2);
  page.line({g.x, g.y - 9}, {g.x, g.y + 9}, ink, 1.2);
  const double room = page.at(door.panel.width, 0.0).x - page.at(0.0, 0.0).x;
  if (room > 150.0) {
    page.text({g.x, g.y - 16}, "centre of gravity", "middle", 13);
  } else {
    page.text({g.x, g.y - 32}, "centre", "middle", 13);
    page.text({g.x, g.y - 16}, "of gravity", "middle", 13);
  }
  const bool upright = door.hanging == door::HingeEdge::side; // else down is out of the plane
  if (upright)
    page.arrow({g.x, g.y + 9}, {g.x, g.y + 70}, load);
  const double under = g.y + (upright ? 88.0 : 26.0);
  if (room > 150.0) {
    page.text({g.x, under}, "weight " + words.force(d.weight), "middle", 13, load);
  } else {
    page.text({g.x, under}, "weight", "middle", 13, load);
    page.text({g.x, under + 16.0}, words.force(d.weight), "middle", 13, load);
  }
}

// The load on the latch edge.
void draw_handle(Page& page, const door::Door& door, const ElevationFormatter& words)
{
  if (door.handle.force == 0.0)
    return;
  Point at = page.at(door.panel.width, door.handle.position);
  at.x += 12.0; // clear of the deformed edge
  const double up = door.handle.force > 0.0 ? -44.0 : 44.0;
  if (door.hanging == door::HingeEdge::side)
    page.arrow({at.x + 14.0, at.y + up}, {at.x + 14.0, at.y}, load);
  page.text({at.x + 22.0, at.y + (up < 0.0 ? up + 10.0 : up)},
            "load " + words.force(std::abs(door.handle.force)), "start", 13, load);
}

// Headings that stay on the page whatever the door is called; a letter is taken as 0.6 of its size
// wide.
void draw_headings(Page& page, const door::Door& door, const analysis::OpenDoorResult& d,
                   double scale, const ElevationFormatter& words)
{
  const double letters = std::max<double>(1.0, static_cast<double>(count_letters(door.name)));
  const double size = std::clamp((page.width - 2.0 * margin) / (0.6 * letters), 7.0, 20.0);
  page.text({margin, 34}, door.name, "start", std::round(10.0 * size) / 10.0);
  page.text({margin, 56}, system::state_label(d.state) + "; seen from outside, square to the face",
            "start", 14);
  const std::string drawn =
      scale > 1.0 ? fmt::format("movement drawn {:.0f} times larger", scale) : "movement to scale";
  page.text({margin, 75}, drawn, "start", 14);
  if (door.hanging != door::HingeEdge::side)
    page.text({margin, 94}, "hinge edge at the left; the latch edge drops " + words.length(d.drop),
              "start", 14);
}

} // namespace

double movement_scale(const door::Door& door, const analysis::OpenDoorResult& open_result)
{
  double greatest = 1e-9;
  for (const auto& c : open_result.corners)
    greatest = std::max({greatest, std::abs(c.move.x), std::abs(c.move.z)});
  const double room = std::max(door.panel.width, door.panel.height) / 20.0 / greatest;
  double scale = 1.0;
  for (double decade = 1.0; decade < 1e7; decade *= 10.0)
    for (const double step : {1.0, 2.0, 5.0})
      if (decade * step <= room)
        scale = decade * step;
  return scale;
}

std::string elevation_svg(const door::Door& door, const analysis::OpenDoorResult& open_result,
                          const ElevationFormatter& words)
{
  const double scale = movement_scale(door, open_result);
  Page page(door);
  draw_headings(page, door, open_result, scale, words);
  draw_outline(page, door, open_result, scale);
  draw_hinges(page, door, open_result, words);
  draw_weight(page, door, open_result, words);
  draw_handle(page, door, words);
  if (door.hanging == door::HingeEdge::side)
    dimension_drop(page, door, open_result, scale, words);
  const Point foot = page.at(0.5 * door.panel.width, 0.0);
  page.text({foot.x, page.height - 24.0},
            fmt::format("{} wide, {} high; dashed: as drawn, solid: as it hangs",
                        words.size(door.panel.width), words.size(door.panel.height)),
            "middle", 13);
  return fmt::format(
      "<svg xmlns=\"http://www.w3.org/2000/svg\" width=\"{0:.0f}\" height=\"{1:.0f}\" "
      "viewBox=\"0 0 {0:.0f} {1:.0f}\" font-family=\"sans-serif\">\n"
      "<rect width=\"100%\" height=\"100%\" fill=\"#ffffff\"/>\n{2}</svg>\n",
      page.width, page.height, page.whole());
}

} // namespace hangtrue::figures
