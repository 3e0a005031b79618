// SPDX-License-Identifier: GPL-3.0-or-later
#include "viz/plots/bar_charts.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <numeric>

namespace hangtrue::plots
{

namespace
{

constexpr double margin = 4.0; // mm
const page::Stroke grid{page::tone(0.88, 0.008, 230.0), 0.18, page::Dash::solid};
const page::Stroke limit_stroke{page::tone(0.40, 0.13, 28.0), 0.5, page::Dash::solid};

page::Colour rank_colour(int rank)
{
  return rank == 0   ? page::tone(0.72, 0.07, 215.0)
         : rank == 1 ? page::tone(0.66, 0.12, 75.0)
                     : page::tone(0.46, 0.14, 30.0);
}

void put(page::Page& page, page::PagePoint position, const std::string& text, page::TextAnchor side,
         double height = page::letters, const page::Colour& colour = page::ink(), bool bold = false)
{
  page.labels.push_back({position, text, height, side, bold, 0.0, colour, false});
}

// A part of a stacked bar: distinguished by lightness; the key names them in the same order.
page::Colour part_colour(std::size_t index, std::size_t count)
{
  const double t = count > 1 ? static_cast<double>(index) / static_cast<double>(count - 1) : 0.5;
  return page::tone(0.42 + 0.48 * t, 0.085 - 0.045 * t, index % 2 == 0 ? 215.0 : 75.0);
}

// The name of a bar: in one line, or in two of small letters where it is long.
void put_bar_name(page::Page& page, page::PagePoint right, const std::string& name, double room)
{
  if (page::text_width(name, page::letters) <= room) {
    put(page, {right.x, right.y + 0.5 * page::letters}, name, page::TextAnchor::right);
    return;
  }
  auto lines = page::wrapped(name, room, page::small_letters);
  if (lines.size() > 2) {
    lines[1] += " \u2026";
    lines.resize(2);
  }
  double y =
      right.y + 0.5 * page::small_letters - (lines.size() > 1 ? 0.75 * page::small_letters : 0.0);
  for (const auto& l : lines) {
    put(page, {right.x, y}, page::truncated(l, room, page::small_letters), page::TextAnchor::right,
        page::small_letters);
    y += 1.5 * page::small_letters;
  }
}

// Text at the end of a bar: the sum, and its verdict below.
void put_bar_end(page::Page& page, page::PagePoint right, const StackedBar& bar)
{
  if (bar.verdict.empty()) {
    put(page, {right.x, right.y + 0.5 * page::letters}, bar.total, page::TextAnchor::right);
    return;
  }
  put(page, {right.x, right.y - 0.3}, bar.total, page::TextAnchor::right);
  const double y = right.y + 0.7 + page::small_letters;
  put(page, {right.x, y}, bar.verdict, page::TextAnchor::right, page::small_letters, page::ink(),
      true);
  const double x = right.x - page::text_width(bar.verdict, page::small_letters, true) - 3.4;
  page::box(page, {x, y - page::small_letters}, 2.4, page::small_letters, rank_colour(bar.rank),
            page::Stroke{page::ink(), 0.18, page::Dash::solid});
}

// Rows that the key of a stacked chart takes.
int key_rows(const StackedChart& chart, double room)
{
  int rows = 1;
  double x = 0.0;
  for (const auto& part : chart.parts) {
    const double wide = 9.5 + page::text_width(part, page::letters);
    if (x + wide > room && x > 0.0) {
      ++rows;
      x = 0.0;
    }
    x += wide;
  }
  return rows;
}

} // namespace

double draw_heading(page::Page& page, const Heading& heading)
{
  const double room = page.width - 2.0 * margin;
  double y = margin + page::headings;
  put(page, {margin, y}, page::truncated(heading.title, room, page::headings, true),
      page::TextAnchor::left, page::headings, page::ink(), true);
  for (const auto& l : page::wrapped(heading.below, room, page::letters)) {
    if (l.empty())
      continue;
    y += 1.8 * page::letters;
    put(page, {margin, y}, l, page::TextAnchor::left);
  }
  return y + 3.0;
}

Scale round_scale(double minimum, double greatest, int max_steps)
{
  const double range = std::max(greatest - minimum, 1e-12 + 1e-9 * std::abs(greatest));
  const double raw = range / max_steps;
  const double decade = std::pow(10.0, std::floor(std::log10(raw)));
  double step = 10.0 * decade;
  for (const double s : {5.0, 2.0, 1.0})
    if (s * decade >= raw * (1.0 - 1e-9))
      step = s * decade;
  Scale scale;
  scale.step = step;
  scale.from = step * std::floor(minimum / step + 1e-9);
  scale.to = step * std::ceil(greatest / step - 1e-9);
  if (scale.to <= scale.from)
    scale.to = scale.from + step;
  scale.places = std::max(0, static_cast<int>(-std::floor(std::log10(step) + 1e-9)));
  return scale;
}

std::string scale_number(const Scale& scale, double value)
{
  const double v = std::abs(value) < 1e-9 * scale.step ? 0.0 : value;
  return (v < 0.0 ? "\u2212" : "") + fmt::format("{:.{}f}", std::abs(v), scale.places);
}

namespace
{

constexpr double key_row = 4.5; // mm, of the key of a stacked chart

page::Page blank(const FigureSize& size)
{
  page::Page page;
  page.width = size.width;
  page.height = size.height;
  return page;
}

// Positions of the bars of a use chart, mm, and the use at their full width.
struct UtilisationLayout {
  double top = 0.0;
  double bottom = 0.0;
  double row = 0.0;
  double names = 0.0; // width of the names
  double found = 0.0; // width of the column of values
  double x0 = 0.0;
  double wide = 0.0;
  double greatest = 0.0;

  [[nodiscard]] double at(double use) const
  {
    return x0 + wide * std::clamp(use / greatest, 0.0, 1.0);
  }
};

constexpr double use_foot = 9.0; // mm

UtilisationLayout utilisation_layout(const page::Page& page, double top,
                                     const std::vector<UtilisationBar>& bars)
{
  UtilisationLayout l;
  l.top = top;
  l.row = std::min(7.5, (page.height - top - use_foot) / static_cast<double>(bars.size()));
  l.bottom = top + l.row * static_cast<double>(bars.size());
  l.names = 0.44 * page.width;
  l.found = 0.26 * page.width;
  l.x0 = margin + l.names;
  l.wide = page.width - l.x0 - l.found - margin;
  // Scale to twice the limit at most: beyond that a bar breaks off with its number beside it.
  l.greatest = 1.1;
  for (const auto& b : bars)
    l.greatest = std::max(l.greatest, b.utilisation + b.error);
  l.greatest = std::min(l.greatest, 2.0);
  return l;
}

void draw_utilisation_grid(page::Page& page, const UtilisationLayout& l)
{
  const bool room_for_quarters =
      l.at(0.25) - l.at(0.0) > 1.15 * page::text_width("100 %", page::small_letters);
  const double each = room_for_quarters ? 0.25 : 0.5;
  for (double tick = 0.0; tick <= l.greatest + 1e-9; tick += each) {
    page::line(page, {l.at(tick), l.top}, {l.at(tick), l.bottom + 1.0}, grid);
    put(page, {l.at(tick), l.bottom + 4.2}, fmt::format("{:.0f} %", 100.0 * tick),
        page::TextAnchor::middle, page::small_letters);
  }
}

// One bar from `y` down, with its names, its error and its value.
void draw_utilisation_bar(page::Page& page, const UtilisationLayout& l, double y,
                          const UtilisationBar& b)
{
  constexpr double name_letters = 2.2;
  const double base = y + 0.5 * l.row + 0.5 * page::small_letters;
  const double where_wide = std::min(0.5 * l.names, page::text_width(b.where, page::small_letters));
  put(page, {l.x0 - 2.0, base}, page::truncated(b.where, where_wide + 0.1, page::small_letters),
      page::TextAnchor::right, page::small_letters, page::faint());
  page.labels.back().colour = page::tone(0.50, 0.015, 230.0);
  put(page, {margin, base},
      page::truncated(b.name, l.names - where_wide - 4.0, name_letters, false),
      page::TextAnchor::left, name_letters);
  page::box(page, {l.x0, y + 0.18 * l.row}, l.at(b.utilisation) - l.x0, 0.64 * l.row,
            rank_colour(b.rank), page::Stroke{page::ink(), 0.18, page::Dash::solid});
  if (b.error > 0.0) {
    const double mid = y + 0.5 * l.row;
    page::line(page, {l.at(b.utilisation - b.error), mid}, {l.at(b.utilisation + b.error), mid},
               {page::ink(), 0.35, page::Dash::solid});
    for (const double e : {b.utilisation - b.error, b.utilisation + b.error})
      page::line(page, {l.at(e), mid - 0.9}, {l.at(e), mid + 0.9},
                 {page::ink(), 0.35, page::Dash::solid});
  }
  const double tail = page.width - margin;
  put(page, {tail, base}, page::truncated(b.found, l.found - 14.0, page::small_letters),
      page::TextAnchor::right, page::small_letters);
  put(page, {tail - l.found + 2.0, base}, fmt::format("{:.0f} %", 100.0 * b.utilisation),
      page::TextAnchor::left, page::small_letters, page::ink(), true);
}

void put_rank_key(page::Page& page, const UtilisationLayout& l)
{
  double key = l.x0;
  for (int rank = 0; rank < 3; ++rank) {
    constexpr const char* names_of[] = {"holds", "close", "fails"};
    page::box(page, {key, l.bottom + 6.2}, 3.0, 2.2, rank_colour(rank),
              page::Stroke{page::ink(), 0.18, page::Dash::solid});
    put(page, {key + 4.0, l.bottom + 8.3}, names_of[rank], page::TextAnchor::left,
        page::small_letters);
    key += 15.0;
  }
}

// Sums of the parts of a bar that count downwards and upwards.
struct Reach {
  double below = 0.0;
  double above = 0.0;
};

Reach reach_of(const StackedBar& bar)
{
  Reach reach;
  for (const double p : bar.parts)
    (p < 0.0 ? reach.below : reach.above) += p;
  return reach;
}

// Positions of the bars of a stacked chart, mm, and their scale.
struct StackedLayout {
  double top = 0.0;
  double bottom = 0.0;
  double row = 0.0;
  double names = 0.0; // width of the names
  double x0 = 0.0;
  double wide = 0.0;
  Scale scale;

  [[nodiscard]] double at(double v) const
  {
    return x0 + wide * (v - scale.from) / (scale.to - scale.from);
  }
};

StackedLayout stacked_layout(const page::Page& page, double top, const StackedChart& chart)
{
  StackedLayout l;
  l.top = top;
  double minimum = 0.0;
  double greatest = chart.limit.value_or(0.0);
  double names = 10.0;
  double totals = 0.0;
  for (const auto& b : chart.bars) {
    const Reach reach = reach_of(b);
    minimum = std::min(minimum, reach.below);
    greatest = std::max(greatest, reach.above);
    names = std::max(names, page::text_width(b.name, page::letters));
    totals = std::max(totals, page::text_width(b.total, page::letters));
    if (!b.verdict.empty())
      totals = std::max(totals, 3.4 + page::text_width(b.verdict, page::small_letters, true));
  }
  l.names = std::min(names, 0.3 * page.width);
  l.scale = round_scale(minimum, greatest, 6);
  if (minimum > -0.1 * l.scale.step) // a sliver below zero needs no step of its own
    l.scale.from = minimum;
  l.x0 = margin + l.names + 3.0;
  l.wide = page.width - l.x0 - margin - totals - 3.0;
  const double foot = 12.0;
  const double count = static_cast<double>(std::max<std::size_t>(1, chart.bars.size()));
  l.row = std::clamp((page.height - top - foot) / count, 6.0, 20.0);
  l.bottom = top + l.row * count;
  return l;
}

void put_stacked_grid(page::Page& page, const StackedLayout& l, const std::string& axis)
{
  const Scale& scale = l.scale;
  const double first = scale.step * std::ceil(scale.from / scale.step - 1e-9);
  for (double v = first; v <= scale.to + 0.5 * scale.step; v += scale.step) {
    page::line(page, {l.at(v), l.top}, {l.at(v), l.bottom + 1.0}, grid);
    put(page, {l.at(v), l.bottom + 4.5}, scale_number(scale, v), page::TextAnchor::middle,
        page::small_letters);
  }
  put(page, {l.at(0.5 * (scale.from + scale.to)), l.bottom + 9.0}, axis, page::TextAnchor::middle);
}

// One bar from `y` down, with its name and its end.
void put_stacked_bar(page::Page& page, const StackedLayout& l, double y, const StackedBar& b,
                     std::size_t parts)
{
  put_bar_name(page, {l.x0 - 2.0, y + 0.5 * l.row}, b.name, l.names);
  Reach reach;
  for (std::size_t i = 0; i < b.parts.size(); ++i) {
    double& edge = b.parts[i] < 0.0 ? reach.below : reach.above;
    const double from = l.at(edge);
    edge += b.parts[i];
    page::box(page, {std::min(from, l.at(edge)), y + 0.2 * l.row}, std::abs(l.at(edge) - from),
              0.6 * l.row, part_colour(i, parts),
              page::Stroke{page::ink(), 0.25, page::Dash::solid});
  }
  put_bar_end(page, {page.width - margin, y + 0.5 * l.row}, b);
}

void put_limit(page::Page& page, const StackedLayout& l, double limit, const std::string& words)
{
  page::line(page, {l.at(limit), l.top - 2.0}, {l.at(limit), l.bottom + 1.0}, limit_stroke);
  const double half = 0.5 * page::text_width(words, page::letters, true);
  const double x = std::min(l.at(limit), page.width - margin - half);
  put(page, {x, l.top - 3.0}, words, page::TextAnchor::middle, page::letters, limit_stroke.colour,
      true);
}

void put_parts_key(page::Page& page, double top, const std::vector<std::string>& parts)
{
  page::PagePoint key{margin, top};
  for (std::size_t i = 0; i < parts.size(); ++i) {
    const double wide = 9.5 + page::text_width(parts[i], page::letters);
    if (key.x + wide > page.width - margin && key.x > margin)
      key = {margin, key.y + key_row};
    page::box(page, key, 4.0, 2.6, part_colour(i, parts.size()),
              page::Stroke{page::ink(), 0.18, page::Dash::solid});
    put(page, {key.x + 5.2, key.y + 2.5},
        page::truncated(parts[i], page.width - margin - key.x - 5.2, page::letters),
        page::TextAnchor::left);
    key.x += wide;
  }
}

} // namespace

page::Page utilisation_chart(const Heading& heading, std::vector<UtilisationBar> bars,
                             const FigureSize& size)
{
  page::Page page = blank(size);
  const double top = draw_heading(page, heading) + 5.0;
  std::stable_sort(bars.begin(), bars.end(), [](const UtilisationBar& a, const UtilisationBar& b) {
    return a.utilisation > b.utilisation;
  });
  constexpr double min_row = 4.2;
  const auto fit =
      std::min(bars.size(), static_cast<std::size_t>((page.height - top - use_foot) / min_row));
  const std::size_t left_out = bars.size() - fit;
  bars.resize(fit);
  if (bars.empty())
    return page;
  const UtilisationLayout l = utilisation_layout(page, top, bars);
  draw_utilisation_grid(page, l);
  double y = top;
  for (const auto& b : bars) {
    draw_utilisation_bar(page, l, y, b);
    y += l.row;
  }
  page::line(page, {l.at(1.0), top - 2.0}, {l.at(1.0), l.bottom + 1.0}, limit_stroke);
  put(page, {l.at(1.0), top - 3.0}, "limit", page::TextAnchor::middle, page::letters,
      limit_stroke.colour, true);
  put_rank_key(page, l);
  if (left_out > 0)
    put(page, {margin, l.bottom + 8.3}, fmt::format("{} smaller ones are not drawn", left_out),
        page::TextAnchor::left, page::small_letters);
  return page;
}

page::Page stacked_chart(const StackedChart& chart, const FigureSize& size)
{
  page::Page page = blank(size);
  const double key_top = draw_heading(page, chart.heading);
  const double top = key_top + 12.0 + key_row * (key_rows(chart, page.width - 2.0 * margin) - 1);
  const StackedLayout l = stacked_layout(page, top, chart);
  put_stacked_grid(page, l, chart.axis);
  double y = top;
  for (const auto& b : chart.bars) {
    put_stacked_bar(page, l, y, b, chart.parts.size());
    y += l.row;
  }
  page::line(page, {l.at(0.0), top - 1.0}, {l.at(0.0), l.bottom + 1.0},
             {page::ink(), 0.35, page::Dash::solid});
  if (chart.limit)
    put_limit(page, l, *chart.limit, chart.limit_words);
  put_parts_key(page, key_top, chart.parts);
  return page;
}

} // namespace hangtrue::plots
