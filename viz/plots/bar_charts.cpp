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

// A part of a stacked bar: told apart by lightness; the key names them in the same order.
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

// What stands at the end of a bar: the sum, and its verdict below.
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

Page use_chart(const Heading& heading, std::vector<UseBar> bars, const FigureSize& size)
{
  Page page;
  page.width = size.width;
  page.height = size.height;
  const double top = put_heading(page, heading) + 5.0;
  std::stable_sort(bars.begin(), bars.end(),
                   [](const UseBar& a, const UseBar& b) { return a.use > b.use; });
  constexpr double foot = 9.0;
  constexpr double name_letters = 2.2;
  constexpr double least_row = 4.2;
  const double room = page.height - top - foot;
  const auto fit = std::min(bars.size(), static_cast<std::size_t>(room / least_row));
  const std::size_t left_out = bars.size() - fit;
  bars.resize(fit);
  if (bars.empty())
    return page;
  const double row = std::min(7.5, room / static_cast<double>(fit));
  const double names = 0.44 * page.width;
  const double found = 0.26 * page.width;
  const double x0 = margin + names;
  const double wide = page.width - x0 - found - margin;
  // Scale to twice the limit at most: beyond that a bar breaks off with its number beside it.
  double greatest = 1.1;
  for (const auto& b : bars)
    greatest = std::max(greatest, b.use + b.error);
  greatest = std::min(greatest, 2.0);
  const auto at = [&](double use) { return x0 + wide * std::clamp(use / greatest, 0.0, 1.0); };
  const double bottom = top + row * static_cast<double>(fit);
  const bool room_for_quarters = at(0.25) - at(0.0) > 1.15 * text_width("100 %", small_letters);
  const double each = room_for_quarters ? 0.25 : 0.5;
  for (double tick = 0.0; tick <= greatest + 1e-9; tick += each) {
    line(page, {at(tick), top}, {at(tick), bottom + 1.0}, grid);
    put(page, {at(tick), bottom + 4.2}, fmt::format("{:.0f} %", 100.0 * tick), Side::middle,
        small_letters);
  }
  double y = top;
  for (const auto& b : bars) {
    const double base = y + 0.5 * row + 0.5 * small_letters;
    const double where_wide = std::min(0.5 * names, text_width(b.where, small_letters));
    put(page, {x0 - 2.0, base}, cut_to(b.where, where_wide + 0.1, small_letters), Side::right,
        small_letters, faint());
    page.words.back().colour = tone(0.50, 0.015, 230.0);
    put(page, {margin, base}, cut_to(b.name, names - where_wide - 4.0, name_letters, false),
        Side::left, name_letters);
    box(page, {x0, y + 0.18 * row}, at(b.use) - x0, 0.64 * row, rank_colour(b.rank),
        Stroke{ink(), 0.18, Dash::solid});
    if (b.error > 0.0) {
      const double mid = y + 0.5 * row;
      line(page, {at(b.use - b.error), mid}, {at(b.use + b.error), mid},
           {ink(), 0.35, Dash::solid});
      for (const double e : {b.use - b.error, b.use + b.error})
        line(page, {at(e), mid - 0.9}, {at(e), mid + 0.9}, {ink(), 0.35, Dash::solid});
    }
    const double tail = page.width - margin;
    put(page, {tail, base}, cut_to(b.found, found - 14.0, small_letters), Side::right,
        small_letters);
    put(page, {tail - found + 2.0, base}, fmt::format("{:.0f} %", 100.0 * b.use), Side::left,
        small_letters, ink(), true);
    y += row;
  }
  line(page, {at(1.0), top - 2.0}, {at(1.0), bottom + 1.0}, limit_stroke);
  put(page, {at(1.0), top - 3.0}, "limit", Side::middle, letters, limit_stroke.colour, true);
  double key = x0;
  for (int rank = 0; rank < 3; ++rank) {
    constexpr const char* names_of[] = {"holds", "close", "fails"};
    box(page, {key, bottom + 6.2}, 3.0, 2.2, rank_colour(rank), Stroke{ink(), 0.18, Dash::solid});
    put(page, {key + 4.0, bottom + 8.3}, names_of[rank], Side::left, small_letters);
    key += 15.0;
  }
  if (left_out > 0)
    put(page, {margin, bottom + 8.3}, fmt::format("{} smaller ones are not drawn", left_out),
        Side::left, small_letters);
  return page;
}

Page stacked_chart(const StackedChart& chart, const FigureSize& size)
{
  Page page;
  page.width = size.width;
  page.height = size.height;
  const double key_top = put_heading(page, chart.heading);
  constexpr double key_row = 4.5;
  const double top = key_top + 12.0 + key_row * (key_rows(chart, page.width - 2.0 * margin) - 1);
  double least = 0.0;
  double greatest = chart.limit.value_or(0.0);
  double names = 10.0;
  double totals = 0.0;
  for (const auto& b : chart.bars) {
    double below = 0.0;
    double above = 0.0;
    for (const double p : b.parts)
      (p < 0.0 ? below : above) += p;
    least = std::min(least, below);
    greatest = std::max(greatest, above);
    names = std::max(names, text_width(b.name, letters));
    totals = std::max(totals, text_width(b.total, letters));
    if (!b.verdict.empty())
      totals = std::max(totals, 3.4 + text_width(b.verdict, small_letters, true));
  }
  names = std::min(names, 0.3 * page.width);
  Scale scale = round_scale(least, greatest, 6);
  if (least > -0.1 * scale.step) // a sliver below zero needs no step of its own
    scale.from = least;
  const double x0 = margin + names + 3.0;
  const double wide = page.width - x0 - margin - totals - 3.0;
  const auto at = [&](double v) { return x0 + wide * (v - scale.from) / (scale.to - scale.from); };
  const double foot = 12.0;
  const double count = static_cast<double>(std::max<std::size_t>(1, chart.bars.size()));
  const double row = std::clamp((page.height - top - foot) / count, 6.0, 20.0);
  const double bottom = top + row * count;
  const double first = scale.step * std::ceil(scale.from / scale.step - 1e-9);
  for (double v = first; v <= scale.to + 0.5 * scale.step; v += scale.step) {
    line(page, {at(v), top}, {at(v), bottom + 1.0}, grid);
    put(page, {at(v), bottom + 4.5}, scale_number(scale, v), Side::middle, small_letters);
  }
  put(page, {at(0.5 * (scale.from + scale.to)), bottom + 9.0}, chart.axis, Side::middle);
  double y = top;
  for (const auto& b : chart.bars) {
    put_bar_name(page, {x0 - 2.0, y + 0.5 * row}, b.name, names);
    double below = 0.0;
    double above = 0.0;
    for (std::size_t i = 0; i < b.parts.size(); ++i) {
      double& edge = b.parts[i] < 0.0 ? below : above;
      const double from = at(edge);
      edge += b.parts[i];
      box(page, {std::min(from, at(edge)), y + 0.2 * row}, std::abs(at(edge) - from), 0.6 * row,
          part_colour(i, chart.parts.size()), Stroke{ink(), 0.25, Dash::solid});
    }
    put_bar_end(page, {page.width - margin, y + 0.5 * row}, b);
    y += row;
  }
  line(page, {at(0.0), top - 1.0}, {at(0.0), bottom + 1.0}, {ink(), 0.35, Dash::solid});
  if (chart.limit) {
    line(page, {at(*chart.limit), top - 2.0}, {at(*chart.limit), bottom + 1.0}, limit_stroke);
    const double half = 0.5 * text_width(chart.limit_words, letters, true);
    const double x = std::min(at(*chart.limit), page.width - margin - half);
    put(page, {x, top - 3.0}, chart.limit_words, Side::middle, letters, limit_stroke.colour, true);
  }
  Spot key{margin, key_top};
  for (std::size_t i = 0; i < chart.parts.size(); ++i) {
    const double wide_key = 9.5 + text_width(chart.parts[i], letters);
    if (key.x + wide_key > page.width - margin && key.x > margin)
      key = {margin, key.y + key_row};
    box(page, key, 4.0, 2.6, part_colour(i, chart.parts.size()), Stroke{ink(), 0.18, Dash::solid});
    put(page, {key.x + 5.2, key.y + 2.5},
        cut_to(chart.parts[i], page.width - margin - key.x - 5.2, letters), Side::left);
    key.x += wide_key;
  }
  return page;
}

} // namespace hangtrue
