// SPDX-License-Identifier: GPL-3.0-or-later
#include "viz/figures/pin_strips.hpp"

#include "viz/figures/figure_parts.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <cstddef>
#include <functional>
#include <map>
#include <utility>

namespace hangtrue::figures
{

namespace
{

void draw_strip_text(page::Page& page, const scene::Window& window, double x, double wide,
                     const Strip& strip)
{
  double y = window.position.y - 5.0;
  std::vector<std::string> lines = page::wrapped(strip.title, 1.35 * wide, page::small_letters);
  for (const auto& l : page::wrapped(strip.greatest, 1.35 * wide, page::small_letters))
    lines.push_back(l);
  for (const auto& l : lines) {
    page.labels.push_back(
        {{x, y}, l, page::small_letters, page::TextAnchor::left, &l == &lines.back()});
    y += 1.7 * page::small_letters;
  }
}

// How far the pin's axis leaves the line between its ends, along a direction: means of its nodes
// at every height.
Strip bent_axis(const mesh::Mesh& mesh, const analysis::OpenDoorResult& d, int hinge,
                const Vec3& along)
{
  const int body = mesh.hinges[hinge].pin_body;
  const mesh::BodyMesh& of = body >= 0 ? mesh.pins[body] : mesh.frame;
  const std::vector<Vec3>& displacements =
      body >= 0 ? d.pin_displacements[body] : d.frame_displacement;
  std::map<long, std::pair<double, double>> sums; // by height in micrometres
  for (const auto& cell : of.cells)
    if (cell.hinge == hinge && cell.part == mesh::Part::pin)
      for (const int n : cell.node) {
        auto& [sum, count] = sums[std::lround(1e6 * of.nodes[n].z)];
        sum += dot(displacements[n], along);
        count += 1.0;
      }
  Strip strip;
  for (const auto& [z, sum] : sums) {
    strip.z.push_back(1e-6 * static_cast<double>(z));
    strip.value.push_back(sum.first / sum.second);
  }
  if (strip.z.size() < 3)
    return {};
  const double first = strip.value.front();
  const double slope = (strip.value.back() - first) / (strip.z.back() - strip.z.front());
  for (std::size_t i = 0; i < strip.z.size(); ++i)
    strip.value[i] -= first + slope * (strip.z[i] - strip.z.front());
  return strip;
}

// A strip whose greatest value is too small to be drawn has text only.
Strip strip_of(const std::string& title, double greatest, double tells,
               const std::function<std::string(double)>& words, std::vector<double> z,
               std::vector<double> value)
{
  if (greatest < tells)
    return {title, "less than " + words(tells), 0.0, {}, {}};
  return {title, words(greatest), greatest, std::move(z), std::move(value)};
}

// Shear is constant between loaded points: a value at every section becomes one between each two.
Strip in_steps(const Strip& strip)
{
  Strip result{strip.title, strip.greatest, strip.maximum, {}, {}};
  for (std::size_t i = 0; i + 1 < strip.z.size(); ++i) {
    result.z.insert(result.z.end(), {strip.z[i], strip.z[i + 1]});
    result.value.insert(result.value.end(), 2, strip.value[i]);
  }
  return result;
}

} // namespace

void draw_strip(page::Page& page, const scene::Window& window, double x, double wide,
                const Strip& strip)
{
  draw_strip_text(page, window, x, wide, strip);
  const double maximum = strip.maximum;
  if (maximum <= 0.0)
    return;
  std::size_t peak = 0;
  for (std::size_t i = 0; i < strip.value.size(); ++i)
    if (std::abs(strip.value[i]) > std::abs(strip.value[peak]))
      peak = i;
  bool both = false;
  for (const double v : strip.value)
    both = both || v * strip.value[peak] < -1e-3 * maximum * maximum;
  const double zero = both ? x + 0.5 * wide : x;
  const double mm = (both ? 0.5 : 1.0) * wide / maximum * (strip.value[peak] < 0.0 ? -1.0 : 1.0);
  const auto y_of = [&](double z) { return scene::on_page(window, {0.0, 0.0, z}).y; };
  page::PathShape area;
  area.spots.push_back({zero, y_of(strip.z.front())});
  for (std::size_t i = 0; i < strip.z.size(); ++i)
    area.spots.push_back({zero + mm * strip.value[i], y_of(strip.z[i])});
  area.spots.push_back({zero, y_of(strip.z.back())});
  area.closed = true;
  area.fill = page::tone(0.88, 0.04, 75.0);
  area.stroke = page::Stroke{page::ink(), 0.25, page::Dash::solid};
  page.shapes.push_back(area);
  page::line(page, {zero, y_of(strip.z.front())}, {zero, y_of(strip.z.back())},
             {page::ink(), 0.35, page::Dash::solid});
  const page::PagePoint position{zero + mm * strip.value[peak], y_of(strip.z[peak])};
  page::circle(page, position, 0.6, page::ink(), {});
}

std::vector<Strip> pin_strips(const mesh::Mesh& mesh, const analysis::OpenDoorResult& d,
                              const PinStripInput& of, const UnitFormatter& words)
{
  std::vector<Strip> strips;
  for (const auto& pin : d.pins)
    if (pin.hinge == of.hinge && pin.z.size() > 1) {
      strips.push_back(strip_of("moment in the pin, most", pin.greatest_bending,
                                1e-3 * of.force * of.diameter, words.moment, pin.z, pin.bending));
      strips.push_back(in_steps(strip_of("shear in the pin, most", pin.greatest_shear,
                                         1e-3 * of.force, words.force, pin.z, pin.shear)));
    }
  Strip bent = bent_axis(mesh, d, of.hinge, of.along);
  if (!bent.z.empty()) {
    double maximum = 0.0;
    for (const double v : bent.value)
      maximum = std::max(maximum, std::abs(v));
    constexpr double nothing = 1e-6; // m, less than a fortieth of a thousandth of an inch
    strips.push_back(strip_of(
        "bend of its axis, most", maximum, nothing,
        [&words](double v) {
          return fmt::format("{:.5f} {}", words.length_number(v), words.length_unit);
        },
        bent.z, bent.value));
  }
  return strips;
}

} // namespace hangtrue::figures
