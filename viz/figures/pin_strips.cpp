#include "viz/figures/pin_strips.hpp"

#include "viz/figures/figure_parts.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <cstddef>
#include <functional>
#include <map>
#include <utility>

namespace hangtrue
{

namespace
{

void put_strip_words(Page& page, const Window& window, double x, double wide, const Strip& strip)
{
  double y = window.at.y - 5.0;
  std::vector<std::string> lines = broken(strip.title, 1.35 * wide, small_letters);
  for (const auto& l : broken(strip.greatest, 1.35 * wide, small_letters))
    lines.push_back(l);
  for (const auto& l : lines) {
    page.words.push_back({{x, y}, l, small_letters, Side::left, &l == &lines.back()});
    y += 1.7 * small_letters;
  }
}

// How far the pin's axis leaves the line between its ends, along a direction: means of its nodes
// at every height.
Strip bent_axis(const Mesh& mesh, const Deflection& d, int hinge, const Vec3& along)
{
  const int body = mesh.hinges[hinge].pin_body;
  const BodyMesh& of = body >= 0 ? mesh.pins[body] : mesh.frame;
  const std::vector<Vec3>& moves = body >= 0 ? d.pin_moves[body] : d.frame_move;
  std::map<long, std::pair<double, double>> sums; // by height in micrometres
  for (const auto& cell : of.cells)
    if (cell.hinge == hinge && cell.part == Part::pin)
      for (const int n : cell.node) {
        auto& [sum, count] = sums[std::lround(1e6 * of.nodes[n].z)];
        sum += dot(moves[n], along);
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
  Strip made{strip.title, strip.greatest, strip.most, {}, {}};
  for (std::size_t i = 0; i + 1 < strip.z.size(); ++i) {
    made.z.insert(made.z.end(), {strip.z[i], strip.z[i + 1]});
    made.value.insert(made.value.end(), 2, strip.value[i]);
  }
  return made;
}

} // namespace

void put_strip(Page& page, const Window& window, double x, double wide, const Strip& strip)
{
  put_strip_words(page, window, x, wide, strip);
  const double most = strip.most;
  if (most <= 0.0)
    return;
  std::size_t peak = 0;
  for (std::size_t i = 0; i < strip.value.size(); ++i)
    if (std::abs(strip.value[i]) > std::abs(strip.value[peak]))
      peak = i;
  bool both = false;
  for (const double v : strip.value)
    both = both || v * strip.value[peak] < -1e-3 * most * most;
  const double zero = both ? x + 0.5 * wide : x;
  const double mm = (both ? 0.5 : 1.0) * wide / most * (strip.value[peak] < 0.0 ? -1.0 : 1.0);
  const auto y_of = [&](double z) { return on_page(window, {0.0, 0.0, z}).y; };
  Shape area;
  area.spots.push_back({zero, y_of(strip.z.front())});
  for (std::size_t i = 0; i < strip.z.size(); ++i)
    area.spots.push_back({zero + mm * strip.value[i], y_of(strip.z[i])});
  area.spots.push_back({zero, y_of(strip.z.back())});
  area.closed = true;
  area.fill = tone(0.88, 0.04, 75.0);
  area.stroke = Stroke{ink(), 0.25, Dash::solid};
  page.shapes.push_back(area);
  line(page, {zero, y_of(strip.z.front())}, {zero, y_of(strip.z.back())},
       {ink(), 0.35, Dash::solid});
  const Spot at{zero + mm * strip.value[peak], y_of(strip.z[peak])};
  circle(page, at, 0.6, ink(), {});
}

std::vector<Strip> pin_strips(const Mesh& mesh, const Deflection& d, const WorkedPin& of,
                              const FigureWords& words)
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
    double most = 0.0;
    for (const double v : bent.value)
      most = std::max(most, std::abs(v));
    constexpr double nothing = 1e-6; // m, less than a fortieth of a thousandth of an inch
    strips.push_back(strip_of(
        "bend of its axis, most", most, nothing,
        [&words](double v) {
          return fmt::format("{:.5f} {}", words.length_number(v), words.length_unit);
        },
        bent.z, bent.value));
  }
  return strips;
}

} // namespace hangtrue
