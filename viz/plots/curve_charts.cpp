// SPDX-License-Identifier: GPL-3.0-or-later
#include "viz/plots/bar_charts.hpp"

#include <algorithm>
#include <cmath>

namespace hangtrue::plots
{

namespace
{

constexpr double margin = 4.0; // mm
const page::Stroke grid{page::tone(0.88, 0.008, 230.0), 0.18, page::Dash::solid};
const page::Stroke limit_stroke{page::tone(0.40, 0.13, 28.0), 0.5, page::Dash::solid};

// Where the panel lies on the page and what it shows.
struct Frame {
  double left = 0.0;
  double top = 0.0;
  double width = 0.0;
  double height = 0.0;
  Scale across;
  Scale up;
};

page::PagePoint on_page(const Frame& f, page::PagePoint value)
{
  return {f.left + f.width * (value.x - f.across.from) / (f.across.to - f.across.from),
          f.top + f.height * (f.up.to - value.y) / (f.up.to - f.up.from)};
}

Scale level_scale(const CurveChart& chart)
{
  double minimum = 1e300;
  double greatest = -1e300;
  for (const auto& p : chart.panes)
    for (const auto& c : p.curves)
      for (const auto& s : c.points) {
        minimum = std::min(minimum, s.x);
        greatest = std::max(greatest, s.x);
      }
  if (minimum > greatest)
    return round_scale(0.0, 1.0, 8);
  Scale scale = round_scale(minimum, greatest, 8);
  if (chart.step > 0.0) {
    scale.step = chart.step;
    scale.from = chart.step * std::floor(minimum / chart.step + 1e-9);
    scale.places = 0;
  }
  scale.to = greatest; // curves fill the width
  return scale;
}

void draw_grid(page::Page& page, const Frame& f, bool numbers_below)
{
  for (double v = f.up.from; v <= f.up.to + 0.01 * f.up.step; v += f.up.step) {
    const page::PagePoint position = on_page(f, {f.across.from, v});
    page::line(page, position, {f.left + f.width, position.y}, grid);
    page.labels.push_back({{f.left - 1.5, position.y + 0.5 * page::small_letters},
                           scale_number(f.up, v),
                           page::small_letters,
                           page::TextAnchor::right});
  }
  for (double v = f.across.from; v <= f.across.to + 0.01 * f.across.step; v += f.across.step) {
    const page::PagePoint position = on_page(f, {v, f.up.from});
    page::line(page, {position.x, f.top}, position, grid);
    if (numbers_below)
      page.labels.push_back({{position.x, position.y + page::small_letters + 1.6},
                             scale_number(f.across, v),
                             page::small_letters,
                             page::TextAnchor::middle});
  }
  page::box(page, {f.left, f.top}, f.width, f.height, {},
            page::Stroke{page::ink(), 0.25, page::Dash::solid});
}

// Names at the right ends of their curves, shifted apart where they would overlap.
void name_curves(page::Page& page, const Frame& f, const std::vector<Curve>& curves)
{
  struct Name {
    double y = 0.0;
    const Curve* curve = nullptr;
  };
  std::vector<Name> names;
  for (const auto& c : curves)
    if (!c.points.empty() && !c.name.empty())
      names.push_back({on_page(f, c.points.back()).y, &c});
  std::sort(names.begin(), names.end(), [](const Name& a, const Name& b) { return a.y < b.y; });
  constexpr double apart = 1.7 * page::letters;
  for (std::size_t i = 1; i < names.size(); ++i)
    names[i].y = std::max(names[i].y, names[i - 1].y + apart);
  if (!names.empty() && names.back().y > f.top + f.height) {
    names.back().y = f.top + f.height;
    for (std::size_t i = names.size() - 1; i > 0; --i)
      names[i - 1].y = std::min(names[i - 1].y, names[i].y - apart);
  }
  for (const auto& n : names) {
    const page::PagePoint end = on_page(f, n.curve->points.back());
    page::line(page, end, {f.left + f.width + 2.5, n.y},
               {n.curve->colour, 0.18, page::Dash::solid});
    page.labels.push_back(
        {{f.left + f.width + 3.2, n.y + 0.5 * page::letters},
         page::truncated(n.curve->name, page.width - f.left - f.width - 5.0, page::letters),
         page::letters,
         page::TextAnchor::left,
         false,
         0.0,
         page::ink()});
  }
}

// How often curves of the pane cross the box of a text.
int crossings(const Frame& f, const ChartPanel& panel, double left, double right, double top,
              double bottom)
{
  int count = 0;
  for (const auto& c : panel.curves)
    for (std::size_t i = 0; i + 1 < c.points.size(); ++i) {
      const page::PagePoint a = on_page(f, c.points[i]);
      const page::PagePoint b = on_page(f, c.points[i + 1]);
      constexpr int steps = 24;
      for (int k = 0; k <= steps; ++k) {
        const double x = a.x + (b.x - a.x) * k / steps;
        const double y = a.y + (b.y - a.y) * k / steps;
        count += x > left && x < right && y > top && y < bottom ? 1 : 0;
      }
    }
  return count;
}

// Text of a limit along its line where the fewest curves pass: at the left, in the middle or at the
// right, above the line or below.
page::TextLabel limit_words(const Frame& f, const ChartPanel& panel, double y,
                            const std::string& text)
{
  const double wide = page::text_width(text, page::letters, true);
  page::TextLabel best;
  int minimum = 1 << 30;
  for (const double left :
       {f.left + 2.0, f.left + 0.5 * (f.width - wide), f.left + f.width - 2.0 - wide})
    for (const double base : {y - 1.0, y + page::letters + 1.2}) {
      if (base - page::letters < f.top + 0.5 || base > f.top + f.height)
        continue;
      const int count = crossings(f, panel, left - 0.5, left + wide + 0.5,
                                  base - page::letters - 0.7, base + 0.7);
      if (count >= minimum)
        continue;
      minimum = count;
      best = {{left, base}, text, page::letters,       page::TextAnchor::left,
              true,         0.0,  limit_stroke.colour, true};
    }
  return best;
}

// Whether text that begins at a spot would overlap existing text.
bool on_others(const std::vector<page::TextLabel>& there, page::PagePoint position, double wide)
{
  return std::any_of(there.begin(), there.end(), [&](const page::TextLabel& w) {
    const double other = page::text_width(w.text, w.height, w.bold);
    return position.x < w.position.x + other + 1.0 && w.position.x < position.x + wide + 1.0 &&
           std::abs(position.y - w.position.y) < 1.3 * page::letters;
  });
}

// Text of a mark where the fewest curves pass and no text `there` is: to its right or
// left, below or above.
page::TextLabel clear_label(const Frame& f, const ChartPanel& panel,
                            const std::vector<page::TextLabel>& there, page::PagePoint position,
                            const std::string& text)
{
  const double wide = page::text_width(text, page::letters);
  page::TextLabel best;
  int minimum = 1 << 30;
  for (const bool right : {true, false})
    for (const double down :
         {page::letters + 2.5, -2.0, 2.0 * page::letters + 4.0, -page::letters - 4.0}) {
      const double left = right ? position.x + 2.0 : position.x - 2.0 - wide;
      const double y = position.y + down;
      if (left < f.left || left + wide > f.left + f.width || y - page::letters < f.top ||
          y > f.top + f.height)
        continue;
      constexpr int worse_than_any_curve = 1 << 20;
      const int count =
          crossings(f, panel, left - 0.5, left + wide + 0.5, y - page::letters - 0.7, y + 0.7) +
          (on_others(there, {left, y}, wide) ? worse_than_any_curve : 0);
      if (count >= minimum)
        continue;
      minimum = count;
      best = {{left, y}, text, page::letters, page::TextAnchor::left,
              false,     0.0,  page::ink(),   true};
    }
  if (best.text.empty()) // no space anywhere: beside the mark in any case
    best = {{position.x + 2.0, position.y - 2.0},
            text,
            page::letters,
            page::TextAnchor::left,
            false,
            0.0,
            page::ink(),
            true};
  return best;
}

void draw_pane(page::Page& page, const Frame& f, const ChartPanel& panel)
{
  for (const auto& c : panel.curves) {
    page::PathShape curve;
    for (const auto& s : c.points)
      curve.spots.push_back(on_page(f, s));
    curve.stroke = page::Stroke{c.colour, 0.6, c.dash};
    page.shapes.push_back(curve);
    if (c.dots)
      for (const auto& s : c.points)
        page::circle(page, on_page(f, s), 0.7, c.colour, {});
  }
  std::vector<page::TextLabel> there;
  for (const auto& l : panel.limits) {
    const page::PagePoint position = on_page(f, {f.across.from, l.value});
    page::line(page, position, {f.left + f.width, position.y}, limit_stroke);
    there.push_back(limit_words(f, panel, position.y, l.words));
  }
  for (const auto& m : panel.marks) {
    const page::PagePoint position = on_page(f, m.position);
    page::circle(page, position, 1.0, page::Colour{1.0, 1.0, 1.0},
                 page::Stroke{page::ink(), 0.35, page::Dash::solid});
    if (!m.words.empty())
      there.push_back(clear_label(f, panel, there, position, m.words));
  }
  page.labels.insert(page.labels.end(), there.begin(), there.end());
  name_curves(page, f, panel.curves);
  page.labels.push_back({{margin + page::letters, f.top + 0.5 * f.height},
                         panel.axis,
                         page::letters,
                         page::TextAnchor::middle,
                         false,
                         90.0,
                         page::ink()});
}

} // namespace

Scale panel_scale(const ChartPanel& panel)
{
  double minimum = panel.from_zero ? 0.0 : 1e300;
  double greatest = panel.from_zero ? 0.0 : -1e300;
  auto hold = [&](double v) {
    minimum = std::min(minimum, v);
    greatest = std::max(greatest, v);
  };
  for (const auto& c : panel.curves)
    for (const auto& s : c.points)
      hold(s.y);
  for (const auto& l : panel.limits)
    hold(l.value);
  if (minimum > greatest)
    return round_scale(0.0, 1.0, 5);
  return round_scale(minimum, greatest, 5);
}

page::Page curve_chart(const CurveChart& chart, const FigureSize& size)
{
  page::Page page;
  page.width = size.width;
  page.height = size.height;
  const double top = draw_heading(page, chart.heading) + (chart.dividers.empty() ? 0.0 : 4.0);
  constexpr double left = 17.0;
  constexpr double foot = 11.0;
  constexpr double between = 4.0;
  double names = 4.0;
  for (const auto& p : chart.panes)
    for (const auto& c : p.curves)
      names = std::max(names, 5.0 + page::text_width(c.name, page::letters));
  const double count = static_cast<double>(std::max<std::size_t>(1, chart.panes.size()));
  Frame f;
  f.left = left;
  f.width = page.width - left - std::min(names, 0.4 * page.width) - margin;
  f.height = (page.height - top - foot - between * (count - 1.0)) / count;
  f.top = top;
  f.across = level_scale(chart);
  for (std::size_t i = 0; i < chart.panes.size(); ++i) {
    f.up = panel_scale(chart.panes[i]);
    draw_grid(page, f, i + 1 == chart.panes.size());
    for (const auto& d : chart.dividers) {
      const page::PagePoint position = on_page(f, {d.value, f.up.from});
      page::line(page, {position.x, f.top}, position, {page::ink(), 0.25, page::Dash::dashed});
      if (i == 0)
        page.labels.push_back(
            {{position.x, f.top - 1.2}, d.words, page::small_letters, page::TextAnchor::middle});
    }
    draw_pane(page, f, chart.panes[i]);
    f.top += f.height + between;
  }
  page.labels.push_back({{f.left + 0.5 * f.width, page.height - 2.0},
                         chart.axis,
                         page::letters,
                         page::TextAnchor::middle});
  return page;
}

} // namespace hangtrue::plots
