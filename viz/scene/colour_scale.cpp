// SPDX-License-Identifier: GPL-3.0-or-later
#include "viz/plots/bar_charts.hpp"
#include "viz/scene/scene.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

namespace hangtrue::scene
{

namespace
{

std::string number(const ColourScale& scale, double value, int more_places = 0)
{
  plots::Scale plain;
  plain.step = scale.step;
  plain.places = scale.point_positions + more_places;
  return plots::scale_number(plain, value);
}

} // namespace

ColourScale colour_scale(const std::vector<double>& values, int bands, const std::string& unit,
                         std::optional<double> limit)
{
  ColourScale scale;
  scale.unit = unit;
  scale.limit = limit;
  const auto [least, greatest] = std::minmax_element(values.begin(), values.end());
  scale.from = values.empty() ? 0.0 : *least;
  scale.to = values.empty() ? 1.0 : *greatest;
  if (limit) {
    scale.from = std::min(scale.from, *limit);
    scale.to = std::max(scale.to, *limit);
  }
  if (scale.to - scale.from < 1e-12 + 1e-9 * std::abs(scale.to))
    scale.to = scale.from + 1e-9 + 1e-6 * std::abs(scale.from);
  const plots::Scale round = plots::round_scale(scale.from, scale.to, bands);
  scale.step = round.step;
  scale.point_positions = round.places;
  return scale;
}

ColourScale two_sided_scale(const std::vector<double>& values, int bands, const std::string& unit,
                            double middle, std::optional<double> limit)
{
  ColourScale scale = colour_scale(values, bands, unit, limit);
  scale.two_sided = true;
  scale.middle = middle;
  return scale;
}

std::vector<double> band_ends(const ColourScale& scale)
{
  std::vector<double> ends;
  const double first = scale.step * std::ceil(scale.from / scale.step + 1e-9);
  for (double v = first; v < scale.to - 1e-9 * scale.step; v += scale.step)
    ends.push_back(std::abs(v) < 1e-9 * scale.step ? 0.0 : v);
  return ends;
}

page::Colour band_colour(const ColourScale& scale, double value)
{
  const double v = std::clamp(value, scale.from, scale.to);
  const double low = std::floor(scale.from / scale.step + 1e-9);
  const double high = std::ceil(scale.to / scale.step - 1e-9);
  const double band = std::clamp(std::floor(v / scale.step + 1e-9), low, high - 1.0);
  if (!scale.two_sided) {
    const double share = high - low > 1.5 ? (band - low) / (high - low - 1.0) : 0.5;
    return page::sequential(scale.dark_low ? 1.0 - share : share);
  }
  const double reach =
      std::max({std::abs(scale.to - scale.middle), std::abs(scale.from - scale.middle), 1e-12});
  return page::two_sided(((band + 0.5) * scale.step - scale.middle) / (reach + 0.5 * scale.step));
}

void draw_key(page::Page& page, page::PagePoint position, double height, const ColourScale& scale,
              const std::string& title)
{
  constexpr double wide = 5.0;
  double title_y = position.y;
  for (const auto& l : page::wrapped(title, 26.0, page::letters)) {
    page.labels.push_back({{position.x, title_y}, l, page::letters, page::TextAnchor::left, true});
    title_y += 1.6 * page::letters;
  }
  const double top = title_y + 2.5;
  const double bottom = position.y + height - page::small_letters - 2.0;
  const auto y_of = [&](double v) {
    return bottom - (bottom - top) * (v - scale.from) / (scale.to - scale.from);
  };
  std::vector<double> ends = band_ends(scale);
  ends.insert(ends.begin(), scale.from);
  ends.push_back(scale.to);
  for (std::size_t i = 0; i + 1 < ends.size(); ++i) {
    const double middle = 0.5 * (ends[i] + ends[i + 1]);
    page::box(page, {position.x, y_of(ends[i + 1])}, wide, y_of(ends[i]) - y_of(ends[i + 1]),
              band_colour(scale, middle), page::Stroke{page::ink(), 0.18, page::Dash::solid});
  }
  const page::Stroke thin{page::ink(), 0.18, page::Dash::solid};
  auto label = [&](double v, const std::string& words, bool bold) {
    page::line(page, {position.x + wide, y_of(v)}, {position.x + wide + 1.2, y_of(v)}, thin);
    page.labels.push_back({{position.x + wide + 1.8, y_of(v) + 0.5 * page::small_letters},
                           words,
                           page::small_letters,
                           page::TextAnchor::left,
                           bold});
  };
  const int more = scale.point_positions > 0 ? 1 : 0; // the ends are no round numbers
  label(scale.to, number(scale, scale.to, more) + " " + scale.unit, true);
  label(scale.from, number(scale, scale.from, more) + " " + scale.unit, true);
  const auto near_end = [&](double y) {
    return y - top < 1.5 * page::small_letters || bottom - y < 1.5 * page::small_letters;
  };
  const bool limit_at_end = scale.limit && near_end(y_of(*scale.limit));
  double last = 1e9;
  for (std::size_t i = 1; i + 1 < ends.size(); ++i) { // only where there is space between
    const double y = y_of(ends[i]);
    const double apart = 1.5 * page::small_letters;
    // At an end the limit's text is below the number of the end.
    const double limit_reach = limit_at_end ? 3.2 * page::small_letters : apart;
    const bool limit_near = scale.limit && std::abs(y - y_of(*scale.limit)) < limit_reach;
    if (y - top < apart || bottom - y < apart || last - y < apart || limit_near)
      continue;
    label(ends[i], number(scale, ends[i]), false);
    last = y;
  }
  if (scale.limit) {
    const double y = y_of(*scale.limit);
    const page::Colour strong = page::tone(0.40, 0.13, 28.0);
    page::line(page, {position.x - 1.5, y}, {position.x + wide + 1.5, y},
               {strong, 0.7, page::Dash::solid});
    const bool low_end = limit_at_end && bottom - y < y - top; // there its text is above
    const double down = !limit_at_end ? 0.5 : low_end ? -1.0 : 2.0;
    const std::string words = limit_at_end ? "limit" : "limit " + number(scale, *scale.limit);
    page.labels.push_back({{position.x + wide + 1.8, y + down * page::small_letters},
                           words,
                           page::small_letters,
                           page::TextAnchor::left,
                           true,
                           0.0,
                           strong});
  }
}

} // namespace hangtrue::scene
