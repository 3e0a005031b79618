#include "viz/plots/bar_charts.hpp"

#include <algorithm>
#include <cmath>

namespace hangtrue
{

namespace
{

constexpr double margin = 4.0; // mm
const Stroke grid{tone(0.88, 0.008, 230.0), 0.18, Dash::solid};
const Stroke limit_stroke{tone(0.40, 0.13, 28.0), 0.5, Dash::solid};

// Where the panel lies on the page and what it shows.
struct Frame {
  double left = 0.0;
  double top = 0.0;
  double width = 0.0;
  double height = 0.0;
  Scale across;
  Scale up;
};

Spot on_page(const Frame& f, Spot value)
{
  return {f.left + f.width * (value.x - f.across.from) / (f.across.to - f.across.from),
          f.top + f.height * (f.up.to - value.y) / (f.up.to - f.up.from)};
}

Scale level_scale(const CurveChart& chart)
{
  double least = 1e300;
  double greatest = -1e300;
  for (const auto& p : chart.panes)
    for (const auto& c : p.curves)
      for (const auto& s : c.points) {
        least = std::min(least, s.x);
        greatest = std::max(greatest, s.x);
      }
  if (least > greatest)
    return round_scale(0.0, 1.0, 8);
  Scale scale = round_scale(least, greatest, 8);
  if (chart.step > 0.0) {
    scale.step = chart.step;
    scale.from = chart.step * std::floor(least / chart.step + 1e-9);
    scale.places = 0;
  }
  scale.to = greatest; // curves fill the width
  return scale;
}

void draw_grid(Page& page, const Frame& f, bool numbers_below)
{
  for (double v = f.up.from; v <= f.up.to + 0.01 * f.up.step; v += f.up.step) {
    const Spot at = on_page(f, {f.across.from, v});
    line(page, at, {f.left + f.width, at.y}, grid);
    page.words.push_back({{f.left - 1.5, at.y + 0.5 * small_letters},
                          scale_number(f.up, v),
                          small_letters,
                          Side::right});
  }
  for (double v = f.across.from; v <= f.across.to + 0.01 * f.across.step; v += f.across.step) {
    const Spot at = on_page(f, {v, f.up.from});
    line(page, {at.x, f.top}, at, grid);
    if (numbers_below)
      page.words.push_back({{at.x, at.y + small_letters + 1.6},
                            scale_number(f.across, v),
                            small_letters,
                            Side::middle});
  }
  box(page, {f.left, f.top}, f.width, f.height, {}, Stroke{ink(), 0.25, Dash::solid});
}

// Names at the right ends of their curves, shifted apart where they would overlap.
void name_curves(Page& page, const Frame& f, const std::vector<Curve>& curves)
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
  constexpr double apart = 1.7 * letters;
  for (std::size_t i = 1; i < names.size(); ++i)
    names[i].y = std::max(names[i].y, names[i - 1].y + apart);
  if (!names.empty() && names.back().y > f.top + f.height) {
    names.back().y = f.top + f.height;
    for (std::size_t i = names.size() - 1; i > 0; --i)
      names[i - 1].y = std::min(names[i - 1].y, names[i].y - apart);
  }
  for (const auto& n : names) {
    const Spot end = on_page(f, n.curve->points.back());
    line(page, end, {f.left + f.width + 2.5, n.y}, {n.curve->colour, 0.18, Dash::solid});
    page.words.push_back({{f.left + f.width + 3.2, n.y + 0.5 * letters},
                          cut_to(n.curve->name, page.width - f.left - f.width - 5.0, letters),
                          letters,
                          Side::left,
                          false,
                          0.0,
                          ink()});
  }
}

// How often curves of the pane cross the box of a text.
int crossings(const Frame& f, const Pane& pane, double left, double right, double top,
              double bottom)
{
  int count = 0;
  for (const auto& c : pane.curves)
    for (std::size_t i = 0; i + 1 < c.points.size(); ++i) {
      const Spot a = on_page(f, c.points[i]);
      const Spot b = on_page(f, c.points[i + 1]);
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
Words limit_words(const Frame& f, const Pane& pane, double y, const std::string& text)
{
  const double wide = text_width(text, letters, true);
  Words best;
  int least = 1 << 30;
  for (const double left :
       {f.left + 2.0, f.left + 0.5 * (f.width - wide), f.left + f.width - 2.0 - wide})
    for (const double base : {y - 1.0, y + letters + 1.2}) {
      if (base - letters < f.top + 0.5 || base > f.top + f.height)
        continue;
      const int count =
          crossings(f, pane, left - 0.5, left + wide + 0.5, base - letters - 0.7, base + 0.7);
      if (count >= least)
        continue;
      least = count;
      best = {{left, base}, text, letters, Side::left, true, 0.0, limit_stroke.colour, true};
    }
  return best;
}

// Whether text that begins at a spot would overlap existing text.
bool on_others(const std::vector<Words>& there, Spot at, double wide)
{
  return std::any_of(there.begin(), there.end(), [&](const Words& w) {
    const double other = text_width(w.text, w.height, w.bold);
    return at.x < w.at.x + other + 1.0 && w.at.x < at.x + wide + 1.0 &&
           std::abs(at.y - w.at.y) < 1.3 * letters;
  });
}

// Text of a mark where the fewest curves pass and no text `there` is: to its right or left, below
// or above.
Words clear_words(const Frame& f, const Pane& pane, const std::vector<Words>& there, Spot at,
                  const std::string& text)
{
  const double wide = text_width(text, letters);
  Words best;
  int least = 1 << 30;
  for (const bool right : {true, false})
    for (const double down : {letters + 2.5, -2.0, 2.0 * letters + 4.0, -letters - 4.0}) {
      const double left = right ? at.x + 2.0 : at.x - 2.0 - wide;
      const double y = at.y + down;
      if (left < f.left || left + wide > f.left + f.width || y - letters < f.top ||
          y > f.top + f.height)
        continue;
      constexpr int worse_than_any_curve = 1 << 20;
      const int count =
          crossings(f, pane, left - 0.5, left + wide + 0.5, y - letters - 0.7, y + 0.7) +
          (on_others(there, {left, y}, wide) ? worse_than_any_curve : 0);
      if (count >= least)
        continue;
      least = count;
      best = {{left, y}, text, letters, Side::left, false, 0.0, ink(), true};
    }
  if (best.text.empty()) // no space anywhere: beside the mark in any case
    best = {{at.x + 2.0, at.y - 2.0}, text, letters, Side::left, false, 0.0, ink(), true};
  return best;
}

void draw_pane(Page& page, const Frame& f, const Pane& pane)
{
  for (const auto& c : pane.curves) {
    Shape curve;
    for (const auto& s : c.points)
      curve.spots.push_back(on_page(f, s));
    curve.stroke = Stroke{c.colour, 0.6, c.dash};
    page.shapes.push_back(curve);
    if (c.dots)
      for (const auto& s : c.points)
        circle(page, on_page(f, s), 0.7, c.colour, {});
  }
  std::vector<Words> there;
  for (const auto& l : pane.limits) {
    const Spot at = on_page(f, {f.across.from, l.value});
    line(page, at, {f.left + f.width, at.y}, limit_stroke);
    there.push_back(limit_words(f, pane, at.y, l.words));
  }
  for (const auto& m : pane.marks) {
    const Spot at = on_page(f, m.at);
    circle(page, at, 1.0, Colour{1.0, 1.0, 1.0}, Stroke{ink(), 0.35, Dash::solid});
    if (!m.words.empty())
      there.push_back(clear_words(f, pane, there, at, m.words));
  }
  page.words.insert(page.words.end(), there.begin(), there.end());
  name_curves(page, f, pane.curves);
  page.words.push_back({{margin + letters, f.top + 0.5 * f.height},
                        pane.axis,
                        letters,
                        Side::middle,
                        false,
                        90.0,
                        ink()});
}

} // namespace

Scale pane_scale(const Pane& pane)
{
  double least = pane.from_zero ? 0.0 : 1e300;
  double greatest = pane.from_zero ? 0.0 : -1e300;
  auto hold = [&](double v) {
    least = std::min(least, v);
    greatest = std::max(greatest, v);
  };
  for (const auto& c : pane.curves)
    for (const auto& s : c.points)
      hold(s.y);
  for (const auto& l : pane.limits)
    hold(l.value);
  if (least > greatest)
    return round_scale(0.0, 1.0, 5);
  return round_scale(least, greatest, 5);
}

Page curve_chart(const CurveChart& chart, const FigureSize& size)
{
  Page page;
  page.width = size.width;
  page.height = size.height;
  const double top = put_heading(page, chart.heading) + (chart.dividers.empty() ? 0.0 : 4.0);
  constexpr double left = 17.0;
  constexpr double foot = 11.0;
  constexpr double between = 4.0;
  double names = 4.0;
  for (const auto& p : chart.panes)
    for (const auto& c : p.curves)
      names = std::max(names, 5.0 + text_width(c.name, letters));
  const double count = static_cast<double>(std::max<std::size_t>(1, chart.panes.size()));
  Frame f;
  f.left = left;
  f.width = page.width - left - std::min(names, 0.4 * page.width) - margin;
  f.height = (page.height - top - foot - between * (count - 1.0)) / count;
  f.top = top;
  f.across = level_scale(chart);
  for (std::size_t i = 0; i < chart.panes.size(); ++i) {
    f.up = pane_scale(chart.panes[i]);
    draw_grid(page, f, i + 1 == chart.panes.size());
    for (const auto& d : chart.dividers) {
      const Spot at = on_page(f, {d.value, f.up.from});
      line(page, {at.x, f.top}, at, {ink(), 0.25, Dash::dashed});
      if (i == 0)
        page.words.push_back({{at.x, f.top - 1.2}, d.words, small_letters, Side::middle});
    }
    draw_pane(page, f, chart.panes[i]);
    f.top += f.height + between;
  }
  page.words.push_back(
      {{f.left + 0.5 * f.width, page.height - 2.0}, chart.axis, letters, Side::middle});
  return page;
}

} // namespace hangtrue
