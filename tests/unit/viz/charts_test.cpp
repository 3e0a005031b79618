// SPDX-License-Identifier: GPL-3.0-or-later
// Charts contain their data and their limits, and show them as numbers.
#define BOOST_TEST_MODULE charts
#include <boost/test/unit_test.hpp>

#include "viz/page/raster_writer.hpp"
#include "viz/plots/bar_charts.hpp"

#include <algorithm>
#include <cmath>
#include <set>

using namespace hangtrue;

namespace
{

bool says(const page::Page& page, const std::string& text)
{
  return std::any_of(page.labels.begin(), page.labels.end(), [&](const page::TextLabel& w) {
    return w.text.find(text) != std::string::npos;
  });
}

// Where a line of text lies.
struct Extent {
  double left;
  double right;
  double top;
  double bottom;
};
Extent extent(const page::TextLabel& w)
{
  const double wide = page::text_width(w.text, w.height, w.bold);
  const double before = w.side == page::TextAnchor::left     ? 0.0
                        : w.side == page::TextAnchor::middle ? 0.5 * wide
                                                             : wide;
  if (w.turn == 90.0)
    return {w.position.x - w.height, w.position.x, w.position.y - wide + before,
            w.position.y + before};
  return {w.position.x - before, w.position.x - before + wide, w.position.y - w.height,
          w.position.y};
}

void all_on_the_page(const page::Page& page)
{
  for (const auto& w : page.labels) {
    const Extent e = extent(w);
    BOOST_TEST(e.left > -0.01, w.text);
    BOOST_TEST(e.right < page.width + 0.01, w.text);
    BOOST_TEST(e.top > -0.01, w.text);
    BOOST_TEST(e.bottom < page.height + 0.01, w.text);
  }
  for (const auto& s : page.shapes)
    for (const auto& p : s.spots)
      BOOST_TEST(
          (p.x >= -0.01 && p.x <= page.width + 0.01 && p.y >= -0.01 && p.y <= page.height + 0.01));
}

std::vector<plots::UtilisationBar> bars(int count)
{
  std::vector<plots::UtilisationBar> result;
  for (int i = 0; i < count; ++i)
    result.push_back(
        {"check " + std::to_string(i), "open cold", "1 of 2", 0.1 * (i + 1), 0.02, "holds", 0});
  return result;
}

} // namespace

BOOST_AUTO_TEST_CASE(round_scales_contain_their_ends)
{
  for (const auto& [a, b] :
       {std::pair{0.0, 0.0623}, std::pair{-0.013, 0.181}, std::pair{71.0, 399.0},
        std::pair{5.0, 5.0}, std::pair{-3e-7, -1e-7}}) {
    const plots::Scale s = plots::round_scale(a, b, 6);
    BOOST_TEST(s.from <= a + 1e-9 * s.step);
    BOOST_TEST(s.to >= b - 1e-9 * s.step);
    BOOST_TEST((s.to - s.from) / s.step <= 8.01);
    const double first = s.step / std::pow(10.0, std::floor(std::log10(s.step) + 1e-9));
    BOOST_TEST((std::abs(first - 1.0) < 1e-6 || std::abs(first - 2.0) < 1e-6 ||
                std::abs(first - 5.0) < 1e-6));
  }
  BOOST_TEST(plots::scale_number(plots::round_scale(-0.1, 0.1, 4), -0.1) == "\u22120.10");
}

BOOST_AUTO_TEST_CASE(use_is_sorted_and_the_limit_is_at_100_percent)
{
  const page::Page page = plots::utilisation_chart({"Use", ""}, bars(12), {180.0, 120.0});
  all_on_the_page(page);
  std::vector<std::pair<double, std::string>> names;
  for (const auto& w : page.labels)
    if (w.text.rfind("check ", 0) == 0)
      names.emplace_back(w.position.y, w.text);
  BOOST_TEST(names.size() == 12U);
  std::sort(names.begin(), names.end());
  BOOST_TEST(names.front().second == "check 11"); // the largest use on top
  BOOST_TEST(names.back().second == "check 0");
  double limit = -1.0;
  double hundred = -2.0;
  for (const auto& w : page.labels) {
    if (w.text == "limit")
      limit = w.position.x;
    if (w.text == "100 %" && w.side == page::TextAnchor::middle)
      hundred = w.position.x;
  }
  BOOST_TEST(std::abs(limit - hundred) < 1e-9);
}

BOOST_AUTO_TEST_CASE(what_does_not_fit_is_counted)
{
  const page::Page page = plots::utilisation_chart({"Use", ""}, bars(40), {180.0, 90.0});
  all_on_the_page(page);
  int drawn = 0;
  for (const auto& w : page.labels)
    drawn += w.text.rfind("check ", 0) == 0 ? 1 : 0;
  BOOST_TEST(drawn > 10);
  BOOST_TEST(drawn < 40);
  BOOST_TEST(says(page, std::to_string(40 - drawn) + " smaller ones are not drawn"));
}

namespace
{

// Boxes of two level texts, from their widths and heights.
bool overlap(const page::TextLabel& a, const page::TextLabel& b)
{
  const auto left = [](const page::TextLabel& w) {
    const double wide = page::text_width(w.text, w.height, w.bold);
    return w.position.x - (w.side == page::TextAnchor::right    ? wide
                           : w.side == page::TextAnchor::middle ? 0.5 * wide
                                                                : 0.0);
  };
  const auto wide = [](const page::TextLabel& w) {
    return page::text_width(w.text, w.height, w.bold);
  };
  return left(a) < left(b) + wide(b) && left(b) < left(a) + wide(a) &&
         a.position.y - a.height < b.position.y && b.position.y - b.height < a.position.y;
}

} // namespace

BOOST_AUTO_TEST_CASE(parts_of_a_bar_add_up_on_paper)
{
  plots::StackedChart chart{
      {"Drop", ""},
      "drop, in",
      {"play", "steel", "heat"},
      {{"cold", {0.03, 0.01, 0.0}, "0.04 in", "holds, cheapest", 0},
       {"hot, with a name that no one line of the margin has room for, so it takes two",
        {0.03, 0.01, -0.02},
        "0.02",
        "fails",
        2}},
      0.0625,
      "limit 0.0625 in"};
  const page::Page page = plots::stacked_chart(chart, {180.0, 80.0});
  all_on_the_page(page);
  std::vector<double> wide; // of the filled boxes after the key
  for (const auto& s : page.shapes)
    if (s.fill && s.closed && s.spots.size() == 4U && s.spots[2].y - s.spots[0].y > 3.0)
      wide.push_back(s.spots[1].x - s.spots[0].x);
  BOOST_TEST(wide.size() == 6U);
  BOOST_TEST(std::abs(wide[0] / wide[1] - 3.0) < 1e-6);
  BOOST_TEST(std::abs(wide[5] / wide[4] - 2.0) < 1e-6);
  BOOST_TEST(says(page, "limit 0.0625 in"));
  BOOST_TEST(says(page, "holds, cheapest"));
  BOOST_TEST(says(page, "hot, with a name"));
  // Each verdict is in the row of its bar, and no text overlaps other text.
  for (std::size_t i = 0; i < page.labels.size(); ++i)
    for (std::size_t j = i + 1; j < page.labels.size(); ++j)
      BOOST_TEST(!overlap(page.labels[i], page.labels[j]),
                 page.labels[i].text << " on " << page.labels[j].text);
}

// Compression round a gasket, wear over years: the same function, the limits always in the scale.
BOOST_AUTO_TEST_CASE(curve_charts_contain_their_limits)
{
  plots::ChartPanel panel{
      "compression, in",
      {{"cold", {{0.0, 0.2}, {10.0, 0.3}}}, {"worst", {{0.0, 0.1}, {10.0, 0.25}}}},
      {{0.05, "sealing"}, {0.41, "crushing"}},
      {{{3.0, 0.22}, "least"}}};
  const plots::Scale s = plots::panel_scale(panel);
  BOOST_TEST(s.from <= 0.05);
  BOOST_TEST(s.to >= 0.41);
  const plots::CurveChart chart{
      {"Gasket", "round the door"}, "along the line, in", 0.0, {panel, panel}, {{5.0, "corner"}}};
  const page::Page page = plots::curve_chart(chart, {180.0, 120.0});
  all_on_the_page(page);
  BOOST_TEST(says(page, "sealing"));
  BOOST_TEST(says(page, "crushing"));
  BOOST_TEST(says(page, "worst"));
}

BOOST_AUTO_TEST_CASE(text_is_escaped_and_nothing_is_fetched)
{
  page::Page page;
  page.labels.push_back({{1.0, 5.0}, "<script>alert('x')</script> & \"y\"\n"});
  const std::string svg = page::page_svg(page);
  BOOST_TEST(svg.find("<script") == std::string::npos);
  BOOST_TEST(svg.find("&lt;script&gt;alert(&#39;x&#39;)&lt;/script&gt; &amp; &quot;y&quot;") !=
             std::string::npos);
  // The two names of XML spaces are the only addresses, and they are names.
  std::size_t addresses = 0;
  for (std::size_t index = svg.find("http"); index != std::string::npos;
       index = svg.find("http", index + 1))
    ++addresses;
  BOOST_TEST(addresses == 2U);
}

BOOST_AUTO_TEST_CASE(text_fits_its_space)
{
  const std::string text = "a long name of a check that has no room";
  BOOST_TEST(page::text_width(page::truncated(text, 30.0, 2.5), 2.5) <= 30.0);
  BOOST_TEST(page::truncated("short", 30.0, 2.5) == "short");
  // A text of a megabyte was measured anew for every letter removed, and no signal was handled
  // meanwhile.
  const std::string endless(1000000, 'x');
  const std::string cut = page::truncated(endless, 30.0, 2.5);
  BOOST_TEST(page::text_width(cut, 2.5) <= 30.0);
  BOOST_TEST(page::text_width("x", 2.5) + page::text_width(cut, 2.5) >
             30.0); // no letter less than fits
  BOOST_TEST(page::truncated("\u00e4\u00e4\u00e4\u00e4", 6.0, 2.5) ==
             "\u00e4..."); // letters stay complete
  BOOST_TEST(page::truncated("endless", 0.1, 2.5) == "...");
  const auto lines = page::wrapped(text, 25.0, 2.5);
  BOOST_TEST(lines.size() > 2U);
  for (const auto& l : lines)
    BOOST_TEST(page::text_width(l, 2.5) <= 25.0);
}

// RFC 4648, section 10: the test vectors.
BOOST_AUTO_TEST_CASE(base64_by_its_standard)
{
  BOOST_TEST(page::base64("").empty());
  BOOST_TEST(page::base64("f") == "Zg==");
  BOOST_TEST(page::base64("fo") == "Zm8=");
  BOOST_TEST(page::base64("foo") == "Zm9v");
  BOOST_TEST(page::base64("foobar") == "Zm9vYmFy");
}

// Without any display: areas have their size in dots, and letters leave ink.
BOOST_AUTO_TEST_CASE(pixels_have_the_area_of_the_shape)
{
  page::Page page;
  page.width = 20.0;
  page.height = 10.0;
  page::box(page, {2.05, 2.0}, 5.0, 3.0, page::Colour{0.0, 0.0, 0.0}, {});
  const page::Raster raster = page::rasterized(page, 10.0);
  BOOST_TEST(raster.width == 200);
  BOOST_TEST(raster.height == 100);
  double dark = 0.0;
  for (std::size_t i = 0; i < raster.rgb.size(); i += 3)
    dark += 1.0 - raster.rgb[i] / 255.0;
  BOOST_TEST(std::abs(dark - 1500.0) < 1.0); // 5 x 3 mm at 100 dots per mm^2, in steps of 1/255
  page::Page words;
  words.width = 20.0;
  words.height = 10.0;
  words.labels.push_back({{2.0, 7.0}, "\u2212H", 3.5});
  const page::Raster lettered = page::rasterized(words, 10.0);
  int top = lettered.height;
  int left = lettered.width;
  int bottom = 0;
  for (int y = 0; y < lettered.height; ++y)
    for (int x = 0; x < lettered.width; ++x)
      if (lettered.rgb[3 * (static_cast<std::size_t>(y) * lettered.width + x)] < 128) {
        top = std::min(top, y);
        bottom = std::max(bottom, y);
        left = std::min(left, x);
      }
  BOOST_TEST(std::abs(bottom - top + 1 - 35) <= 2); // capitals 3.5 mm high
  BOOST_TEST(std::abs(bottom + 1 - 70) <= 2);       // on the base line
  BOOST_TEST(left < 28);                            // the minus sign is there too
  BOOST_TEST(page::png_bytes(lettered).substr(1, 3) == "PNG");
}
