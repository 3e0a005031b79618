#include "viz/plots/bar_charts.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <numeric>

namespace hangtrue
{

namespace
{

constexpr double margin = 4.0; // mm
const Stroke grid{tone(0.88, 0.008, 230.0), 0.18, Dash::solid};
const Stroke limit_stroke{tone(0.40, 0.13, 28.0), 0.5, Dash::solid};

Colour rank_colour(int rank)
{
  return rank == 0   ? tone(0.72, 0.07, 215.0)
         : rank == 1 ? tone(0.66, 0.12, 75.0)
                     : tone(0.46, 0.14, 30.0);
}

void put(Page& page, Spot at, const std::string& text, Side side, double height = letters,
         const Colour& colour = ink(), bool bold = false)
{
  page.words.push_back({at, text, height, side, bold, 0.0, colour, false});
}

// A part of a stacked bar: distinguished by lightness; the key names them in the same order.
Colour part_colour(std::size_t index, std::size_t count)
{
  const double t = count > 1 ? static_cast<double>(index) / static_cast<double>(count - 1) : 0.5;
  return tone(0.42 + 0.48 * t, 0.085 - 0.045 * t, index % 2 == 0 ? 215.0 : 75.0);
}

// The name of a bar: in one line, or in two of small letters where it is long.
void put_bar_name(Page& page, Spot right, const std::string& name, double room)
{
  if (text_width(name, letters) <= room) {
    put(page, {right.x, right.y + 0.5 * letters}, name, Side::right);
    return;
  }
  auto lines = broken(name, room, small_letters);
  if (lines.size() > 2) {
    lines[1] += " \u2026";
    lines.resize(2);
  }
  double y = right.y + 0.5 * small_letters - (lines.size() > 1 ? 0.75 * small_letters : 0.0);
  for (const auto& l : lines) {
    put(page, {right.x, y}, cut_to(l, room, small_letters), Side::right, small_letters);
    y += 1.5 * small_letters;
  }
}

// Text at the end of a bar: the sum, and its verdict below.
void put_bar_end(Page& page, Spot right, const StackedBar& bar)
{
  if (bar.verdict.empty()) {
    put(page, {right.x, right.y + 0.5 * letters}, bar.total, Side::right);
    return;
  }
  put(page, {right.x, right.y - 0.3}, bar.total, Side::right);
  const double y = right.y + 0.7 + small_letters;
  put(page, {right.x, y}, bar.verdict, Side::right, small_letters, ink(), true);
  const double x = right.x - text_width(bar.verdict, small_letters, true) - 3.4;
  box(page, {x, y - small_letters}, 2.4, small_letters, rank_colour(bar.rank),
      Stroke{ink(), 0.18, Dash::solid});
}

// Rows that the key of a stacked chart takes.
int key_rows(const StackedChart& chart, double room)
{
  int rows = 1;
  double x = 0.0;
  for (const auto& part : chart.parts) {
    const double wide = 9.5 + text_width(part, letters);
    if (x + wide > room && x > 0.0) {
      ++rows;
      x = 0.0;
    }
    x += wide;
  }
  return rows;
}

} // namespace

double put_heading(Page& page, const Heading& heading)
{
  const double room = page.width - 2.0 * margin;
  double y = margin + headings;
  put(page, {margin, y}, cut_to(heading.title, room, headings, true), Side::left, headings, ink(),
      true);
  for (const auto& l : broken(heading.below, room, letters)) {
    if (l.empty())
      continue;
    y += 1.8 * letters;
    put(page, {margin, y}, l, Side::left);
  }
  return y + 3.0;
}

Scale round_scale(double least, double greatest, int most_steps)
{
  const double range = std::max(greatest - least, 1e-12 + 1e-9 * std::abs(greatest));
  const double raw = range / most_steps;
  const double decade = std::pow(10.0, std::floor(std::log10(raw)));
  double step = 10.0 * decade;
  for (const double s : {5.0, 2.0, 1.0})
    if (s * decade >= raw * (1.0 - 1e-9))
      step = s * decade;
  Scale scale;
  scale.step = step;
  scale.from = step * std::floor(least / step + 1e-9);
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

Page blank(const FigureSize& size)
{
  Page page;
  page.width = size.width;
  page.height = size.height;
  return page;
}

// Positions of the bars of a use chart, mm, and the use at their full width.
struct UseLayout {
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

UseLayout use_layout(const Page& page, double top, const std::vector<UseBar>& bars)
{
  UseLayout l;
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
    l.greatest = std::max(l.greatest, b.use + b.error);
  l.greatest = std::min(l.greatest, 2.0);
  return l;
}

void put_use_grid(Page& page, const UseLayout& l)
{
  const bool room_for_quarters = l.at(0.25) - l.at(0.0) > 1.15 * text_width("100 %", small_letters);
  const double each = room_for_quarters ? 0.25 : 0.5;
  for (double tick = 0.0; tick <= l.greatest + 1e-9; tick += each) {
    line(page, {l.at(tick), l.top}, {l.at(tick), l.bottom + 1.0}, grid);
    put(page, {l.at(tick), l.bottom + 4.2}, fmt::format("{:.0f} %", 100.0 * tick), Side::middle,
        small_letters);
  }
}

// One bar from `y` down, with its names, its error and its value.
void put_use_bar(Page& page, const UseLayout& l, double y, const UseBar& b)
{
  constexpr double name_letters = 2.2;
  const double base = y + 0.5 * l.row + 0.5 * small_letters;
  const double where_wide = std::min(0.5 * l.names, text_width(b.where, small_letters));
  put(page, {l.x0 - 2.0, base}, cut_to(b.where, where_wide + 0.1, small_letters), Side::right,
      small_letters, faint());
  page.words.back().colour = tone(0.50, 0.015, 230.0);
  put(page, {margin, base}, cut_to(b.name, l.names - where_wide - 4.0, name_letters, false),
      Side::left, name_letters);
  box(page, {l.x0, y + 0.18 * l.row}, l.at(b.use) - l.x0, 0.64 * l.row, rank_colour(b.rank),
      Stroke{ink(), 0.18, Dash::solid});
  if (b.error > 0.0) {
    const double mid = y + 0.5 * l.row;
    line(page, {l.at(b.use - b.error), mid}, {l.at(b.use + b.error), mid},
         {ink(), 0.35, Dash::solid});
    for (const double e : {b.use - b.error, b.use + b.error})
      line(page, {l.at(e), mid - 0.9}, {l.at(e), mid + 0.9}, {ink(), 0.35, Dash::solid});
  }
  const double tail = page.width - margin;
  put(page, {tail, base}, cut_to(b.found, l.found - 14.0, small_letters), Side::right,
      small_letters);
  put(page, {tail - l.found + 2.0, base}, fmt::format("{:.0f} %", 100.0 * b.use), Side::left,
      small_letters, ink(), true);
}

void put_rank_key(Page& page, const UseLayout& l)
{
  double key = l.x0;
  for (int rank = 0; rank < 3; ++rank) {
    constexpr const char* names_of[] = {"holds", "close", "fails"};
    box(page, {key, l.bottom + 6.2}, 3.0, 2.2, rank_colour(rank), Stroke{ink(), 0.18, Dash::solid});
    put(page, {key + 4.0, l.bottom + 8.3}, names_of[rank], Side::left, small_letters);
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

StackedLayout stacked_layout(const Page& page, double top, const StackedChart& chart)
{
  StackedLayout l;
  l.top = top;
  double least = 0.0;
  double greatest = chart.limit.value_or(0.0);
  double names = 10.0;
  double totals = 0.0;
  for (const auto& b : chart.bars) {
    const Reach reach = reach_of(b);
    least = std::min(least, reach.below);
    greatest = std::max(greatest, reach.above);
    names = std::max(names, text_width(b.name, letters));
    totals = std::max(totals, text_width(b.total, letters));
    if (!b.verdict.empty())
      totals = std::max(totals, 3.4 + text_width(b.verdict, small_letters, true));
  }
  l.names = std::min(names, 0.3 * page.width);
  l.scale = round_scale(least, greatest, 6);
  if (least > -0.1 * l.scale.step) // a sliver below zero needs no step of its own
    l.scale.from = least;
  l.x0 = margin + l.names + 3.0;
  l.wide = page.width - l.x0 - margin - totals - 3.0;
  const double foot = 12.0;
  const double count = static_cast<double>(std::max<std::size_t>(1, chart.bars.size()));
  l.row = std::clamp((page.height - top - foot) / count, 6.0, 20.0);
  l.bottom = top + l.row * count;
  return l;
}

void put_stacked_grid(Page& page, const StackedLayout& l, const std::string& axis)
{
  const Scale& scale = l.scale;
  const double first = scale.step * std::ceil(scale.from / scale.step - 1e-9);
  for (double v = first; v <= scale.to + 0.5 * scale.step; v += scale.step) {
    line(page, {l.at(v), l.top}, {l.at(v), l.bottom + 1.0}, grid);
    put(page, {l.at(v), l.bottom + 4.5}, scale_number(scale, v), Side::middle, small_letters);
  }
  put(page, {l.at(0.5 * (scale.from + scale.to)), l.bottom + 9.0}, axis, Side::middle);
}

// One bar from `y` down, with its name and its end.
void put_stacked_bar(Page& page, const StackedLayout& l, double y, const StackedBar& b,
                     std::size_t parts)
{
  put_bar_name(page, {l.x0 - 2.0, y + 0.5 * l.row}, b.name, l.names);
  Reach reach;
  for (std::size_t i = 0; i < b.parts.size(); ++i) {
    double& edge = b.parts[i] < 0.0 ? reach.below : reach.above;
    const double from = l.at(edge);
    edge += b.parts[i];
    box(page, {std::min(from, l.at(edge)), y + 0.2 * l.row}, std::abs(l.at(edge) - from),
        0.6 * l.row, part_colour(i, parts), Stroke{ink(), 0.25, Dash::solid});
  }
  put_bar_end(page, {page.width - margin, y + 0.5 * l.row}, b);
}

void put_limit(Page& page, const StackedLayout& l, double limit, const std::string& words)
{
  line(page, {l.at(limit), l.top - 2.0}, {l.at(limit), l.bottom + 1.0}, limit_stroke);
  const double half = 0.5 * text_width(words, letters, true);
  const double x = std::min(l.at(limit), page.width - margin - half);
  put(page, {x, l.top - 3.0}, words, Side::middle, letters, limit_stroke.colour, true);
}

void put_parts_key(Page& page, double top, const std::vector<std::string>& parts)
{
  Spot key{margin, top};
  for (std::size_t i = 0; i < parts.size(); ++i) {
    const double wide = 9.5 + text_width(parts[i], letters);
    if (key.x + wide > page.width - margin && key.x > margin)
      key = {margin, key.y + key_row};
    box(page, key, 4.0, 2.6, part_colour(i, parts.size()), Stroke{ink(), 0.18, Dash::solid});
    put(page, {key.x + 5.2, key.y + 2.5},
        cut_to(parts[i], page.width - margin - key.x - 5.2, letters), Side::left);
    key.x += wide;
  }
}

} // namespace

Page use_chart(const Heading& heading, std::vector<UseBar> bars, const FigureSize& size)
{
  Page page = blank(size);
  const double top = put_heading(page, heading) + 5.0;
  std::stable_sort(bars.begin(), bars.end(),
                   [](const UseBar& a, const UseBar& b) { return a.use > b.use; });
  constexpr double least_row = 4.2;
  const auto fit =
      std::min(bars.size(), static_cast<std::size_t>((page.height - top - use_foot) / least_row));
  const std::size_t left_out = bars.size() - fit;
  bars.resize(fit);
  if (bars.empty())
    return page;
  const UseLayout l = use_layout(page, top, bars);
  put_use_grid(page, l);
  double y = top;
  for (const auto& b : bars) {
    put_use_bar(page, l, y, b);
    y += l.row;
  }
  line(page, {l.at(1.0), top - 2.0}, {l.at(1.0), l.bottom + 1.0}, limit_stroke);
  put(page, {l.at(1.0), top - 3.0}, "limit", Side::middle, letters, limit_stroke.colour, true);
  put_rank_key(page, l);
  if (left_out > 0)
    put(page, {margin, l.bottom + 8.3}, fmt::format("{} smaller ones are not drawn", left_out),
        Side::left, small_letters);
  return page;
}

Page stacked_chart(const StackedChart& chart, const FigureSize& size)
{
  Page page = blank(size);
  const double key_top = put_heading(page, chart.heading);
  const double top = key_top + 12.0 + key_row * (key_rows(chart, page.width - 2.0 * margin) - 1);
  const StackedLayout l = stacked_layout(page, top, chart);
  put_stacked_grid(page, l, chart.axis);
  double y = top;
  for (const auto& b : chart.bars) {
    put_stacked_bar(page, l, y, b, chart.parts.size());
    y += l.row;
  }
  line(page, {l.at(0.0), top - 1.0}, {l.at(0.0), l.bottom + 1.0}, {ink(), 0.35, Dash::solid});
  if (chart.limit)
    put_limit(page, l, *chart.limit, chart.limit_words);
  put_parts_key(page, key_top, chart.parts);
  return page;
}

} // namespace hangtrue
