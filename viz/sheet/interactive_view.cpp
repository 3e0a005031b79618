// SPDX-License-Identifier: GPL-3.0-or-later
#include "viz/sheet/interactive_view.hpp"

#include "solver/fe/cell_values.hpp"
#include "viz/figures/figure_parts.hpp"
#include "viz/page/raster_writer.hpp"
#include "viz/scene/surface_extraction.hpp"
#include "viz/sheet/interactive_view_script.hpp"

#include <fmt/format.h>
#include <fmt/ranges.h>

#include <algorithm>
#include <cmath>
#include <cstdint>
#include <cstring>
#include <fstream>
#include <iterator>
#include <map>

namespace hangtrue::sheet
{

namespace
{

constexpr double steps = 30000.0; // of a 16-bit number, to both sides

template <typename Number>
std::string packed(const std::vector<Number>& numbers)
{
  std::string bytes(numbers.size() * sizeof(Number), '\0');
  if (!numbers.empty())
    std::memcpy(bytes.data(), numbers.data(), bytes.size());
  return page::base64(bytes);
}

double greatest(const std::vector<Vec3>& places)
{
  double maximum = 1e-12;
  for (const auto& p : places)
    maximum = std::max({maximum, std::abs(p.x), std::abs(p.y), std::abs(p.z)});
  return maximum;
}

std::string packed_places(const std::vector<Vec3>& places, double unit)
{
  std::vector<std::int16_t> numbers;
  for (const auto& p : places)
    for (const double v : {p.x, p.y, p.z})
      numbers.push_back(static_cast<std::int16_t>(std::lround(v / unit)));
  return packed(numbers);
}

// Facets of one colour of one body, with points of their own.
struct Group {
  std::vector<int> points; ///< of the surface
  std::map<int, std::uint32_t> number;
  std::vector<std::uint32_t> triangles;

  std::uint32_t at(int point)
  {
    const auto [found, fresh] =
        number.try_emplace(point, static_cast<std::uint32_t>(points.size()));
    if (fresh)
      points.push_back(point);
    return found->second;
  }
};

std::map<std::string, Group> groups_of(const scene::Surface& s)
{
  std::map<std::string, Group> groups; // by colour
  for (std::size_t p = 0; p < s.pieces.size(); ++p) {
    Group& g = groups[page::hex(figures::part_colour(s.part[p]))];
    const auto& piece = s.pieces[p];
    for (std::size_t i = 2; i < piece.size(); ++i)
      for (const int n : {piece[0], piece[i - 1], piece[i]})
        g.triangles.push_back(g.at(n));
  }
  return groups;
}

std::vector<Vec3> some_of(const std::vector<Vec3>& all, const std::vector<int>& which)
{
  std::vector<Vec3> some;
  for (const int i : which)
    some.push_back(all[i]);
  return some;
}

// A text for JSON inside HTML.
std::string quoted(const std::string& text)
{
  std::string safe = "\"";
  for (const char c : text) {
    if (c == '"' || c == '\\' || c == '<' || c == '>' || c == '&' ||
        static_cast<unsigned char>(c) < 0x20U)
      safe += fmt::format("\\u{:04x}", static_cast<unsigned char>(c));
    else
      safe += c;
  }
  return safe + "\"";
}

// Displacements of the points of a surface, m.
std::vector<Vec3> displacements_at(const scene::Surface& s, const mesh::BodyMesh& body,
                                   const std::vector<Vec3>& displacements)
{
  std::vector<Vec3> positions;
  const std::vector<Vec3> drawn = scene::point_positions(s, body);
  const std::vector<Vec3> moved = scene::point_positions(s, body, &displacements, 1.0);
  for (std::size_t i = 0; i < drawn.size(); ++i)
    positions.push_back(moved[i] - drawn[i]);
  return positions;
}

} // namespace

std::string interactive_data(const std::vector<const mesh::BodyMesh*>& bodies,
                             const std::vector<InteractiveState>& states)
{
  std::vector<scene::Surface> surfaces;
  double reach = 1e-12;
  std::vector<double> units(states.size(), 1e-12);
  for (std::size_t b = 0; b < bodies.size(); ++b) {
    surfaces.push_back(scene::surface_of(*bodies[b], fe::is_steel, true));
    reach = std::max(reach, greatest(scene::point_positions(surfaces[b], *bodies[b])));
    for (std::size_t s = 0; s < states.size(); ++s)
      units[s] = std::max(units[s],
                          greatest(displacements_at(surfaces[b], *bodies[b], *states[s].moves[b])));
  }
  const double unit = reach / steps;
  std::vector<std::string> parts;
  for (std::size_t b = 0; b < bodies.size(); ++b) {
    const scene::Surface& surface = surfaces[b];
    const std::vector<Vec3> all = scene::point_positions(surface, *bodies[b]);
    std::vector<std::vector<Vec3>> displacements;
    for (const auto& state : states)
      displacements.push_back(displacements_at(surface, *bodies[b], *state.moves[b]));
    auto part = [&](const std::string& colour, const std::vector<int>& points,
                    const std::vector<std::uint32_t>& numbers, bool lines) {
      std::vector<std::string> packed_displacements;
      for (std::size_t s = 0; s < states.size(); ++s)
        packed_displacements.push_back(
            quoted(packed_places(some_of(displacements[s], points), units[s] / steps)));
      parts.push_back(
          fmt::format("{{\"colour\":\"{}\",\"lines\":{},\"points\":\"{}\",\"index\":\"{}\","
                      "\"moves\":[{}]}}",
                      colour, lines, packed_places(some_of(all, points), unit), packed(numbers),
                      fmt::join(packed_displacements, ",")));
    };
    for (const auto& [colour, group] : groups_of(surface))
      part(colour, group.points, group.triangles, false);
    Group edges;
    for (const auto& e : surface.edges)
      for (const int n : e)
        edges.triangles.push_back(edges.at(n));
    part(page::hex(page::ink()), edges.points, edges.triangles, true);
  }
  std::vector<std::string> names;
  for (std::size_t s = 0; s < states.size(); ++s)
    names.push_back(fmt::format("{{\"name\":{},\"factor\":{:.0f},\"unit\":{:.9g}}}",
                                quoted(states[s].name), states[s].factor, units[s] / steps));
  return fmt::format("{{\"unit\":{:.9g},\"states\":[{}],\"parts\":[{}]}}", unit,
                     fmt::join(names, ","), fmt::join(parts, ","));
}

std::string interactive_library()
{
  std::ifstream file("/usr/share/javascript/three/three.min.js", std::ios::binary);
  std::string text{std::istreambuf_iterator<char>(file), {}};
  return text.find("</script") == std::string::npos ? text : std::string();
}

std::string interactive_html(const std::string& data, const std::string& library)
{
  if (library.empty())
    return "";
  std::string html = turning_frame;
  html += "<script>\n" + library + "\n</script>\n";
  html += "<script type=\"application/json\" id=\"turning-data\">" + data + "</script>\n";
  html += std::string("<script>\n") + turning_script + "</script>\n";
  return html;
}

} // namespace hangtrue::sheet
