// SPDX-License-Identifier: GPL-3.0-or-later
#include "solver/fe/cell_values.hpp"
#include "solver/qoi/straightedge_readings.hpp"
#include "viz/figures/figure_parts.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cmath>

namespace hangtrue::figures
{

namespace
{

// Height of the outer face over the plane that fits its four corners best, m, per point.
std::vector<double> off_plane(const door::Door& door, const scene::Surface& face,
                              const mesh::BodyMesh& body, const std::vector<Vec3>& displacements)
{
  const std::vector<Vec3> positions = scene::point_positions(face, body);
  const std::vector<Vec3> moved = scene::point_positions(face, body, &displacements, 1.0);
  const double w = door.panel.width;
  const double h = door.panel.height;
  double mean = 0.0;
  double across = 0.0;
  double along = 0.0;
  for (const double x : {0.0, w})
    for (const double z : {0.0, h}) {
      int nearest = face.pieces.front().front();
      auto away = [&](int n) { return std::hypot(positions[n].x - x, positions[n].z - z); };
      for (const auto& piece : face.pieces)
        for (const int n : piece)
          if (away(n) < away(nearest))
            nearest = n;
      const double y = moved[nearest].y - positions[nearest].y;
      mean += 0.25 * y;
      across += (x > 0.0 ? 0.5 : -0.5) * y / w;
      along += (z > 0.0 ? 0.5 : -0.5) * y / h;
    }
  std::vector<double> off;
  for (std::size_t n = 0; n < positions.size(); ++n)
    off.push_back(moved[n].y - positions[n].y - mean - across * (positions[n].x - 0.5 * w) -
                  along * (positions[n].z - 0.5 * h));
  return off;
}

void put_straightedges(page::Page& page, const scene::Window& window, const door::Door& door,
                       const qoi::BowReadings& bow, const UnitFormatter& words)
{
  const double w = door.panel.width;
  const double h = door.panel.height;
  const auto at = [&](double x, double z) { return scene::on_page(window, {x, 0.0, z}); };
  const page::Stroke edge{page::tone(0.35, 0.05, 230.0), 0.35, page::Dash::chain};
  struct Reading {
    page::PagePoint from;
    page::PagePoint to;
    double share; // position of the text on the line
    std::string words;
  };
  const std::array<Reading, 3> readings{
      {{at(0.0, 0.5 * h), at(w, 0.5 * h), 0.78, "across " + words.length(bow.outer_across)},
       {at(0.5 * w, 0.0), at(0.5 * w, h), 0.14, "along " + words.length(bow.outer_along)},
       {at(0.0, 0.0), at(w, h), 0.74, "diagonal " + words.length(bow.outer_diagonal)}}};
  for (const auto& r : readings) {
    page::line(page, r.from, r.to, edge);
    const double half = 0.5 * page::text_width(r.words, page::letters, true) + 1.0;
    const double x = r.from.x + r.share * (r.to.x - r.from.x);
    const double left = std::min(at(0.0, 0.0).x, at(w, 0.0).x) + half;
    const double right = std::max(at(0.0, 0.0).x, at(w, 0.0).x) - half;
    const page::PagePoint middle{std::clamp(x, std::min(left, right), std::max(left, right)),
                                 r.from.y + r.share * (r.to.y - r.from.y) - 1.2};
    page.labels.push_back(
        {middle, r.words, page::letters, page::TextAnchor::middle, true, 0.0, page::ink(), true});
  }
}

} // namespace

Figure bow_figure(const door::Door& door, const mesh::Mesh& mesh, const analysis::OpenDoorResult& d,
                  const UnitFormatter& words, const FigureOptions& form)
{
  Figure figure;
  figure.name = "bow";
  page::Page& page = figure.page;
  page.width = form.size.width;
  page.height = form.size.height;
  const double top =
      plots::draw_heading(page, {"The bow, as a straightedge reads it on the outer skin",
                                 fmt::format("{}, {}; + stands outwards, \u2212 towards the fire",
                                             door.name, system::state_label(d.state))});
  const scene::Surface all = scene::surface_of(mesh.door, fe::is_steel);
  const scene::Surface face = bare_face(door, all, mesh.door);
  std::vector<double> values = off_plane(door, face, mesh.door, d.door_displacement);
  std::vector<double> shown; // of the face alone, for the scale
  for (auto& v : values)
    v = words.length_number(v);
  for (const auto& piece : face.pieces)
    for (const int n : piece)
      shown.push_back(values[n]);
  const scene::ColourScale scale = scene::two_sided_scale(shown, 10, words.length_unit, 0.0);
  scene::Layer layer;
  layer.surface = &face;
  layer.positions = scene::point_positions(face, mesh.door);
  layer.values = values;
  layer.scale = scale;
  layer.lit = false;
  layer.line = 0.0;
  const double wide = 0.60 * page.width;
  const scene::Window window =
      scene::fitted({4.0, top}, wide, page.height - top - 2.0, {-1.0, 0.0, 0.0}, {0.0, 0.0, 1.0},
                    scene::point_positions(all, mesh.door), 0.03);
  scene::Layer hinges =
      plain_layer(all, mesh.door); // leaves are in front of the face, edges all round
  scene::draw_layers(page, window, {hinges, layer}, form.dots);
  std::vector<double> levels = scene::band_ends(scale);
  scene::draw_contours(page, window, scene::contour_lines(face, layer.positions, values, levels),
                       scale);
  put_straightedges(page, window, door, d.bow, words);
  const double x = wide + 10.0;
  scene::draw_key(page, {x, top + 3.0}, 0.55 * (page.height - top), scale,
                  "off the plane of the corners");
  const qoi::BowReadings& b = d.bow;
  const double lines_top = top + 0.55 * (page.height - top) + 8.0;
  draw_text_lines(page, {x, lines_top},
                  {"Inner skin", "   across " + words.length(b.inner_across),
                   "   along " + words.length(b.inner_along),
                   "   diagonal " + words.length(b.inner_diagonal),
                   "Middle against corners " + words.length(std::abs(b.outer_corners)),
                   "   by hand " + words.length(d.temperatures.estimated_bow),
                   "Grown in width " + words.length(b.width_growth),
                   "   in height " + words.length(b.height_growth)},
                  page::small_letters);
  figure.caption = fmt::format(
      "How the outer skin stands off the plane of its corners, {}: level lines every {:g} {}, "
      "dashed towards the fire. A straightedge laid across reads {}, along the hinge axis {}, from "
      "corner to corner {}. Two-skin formula by hand: {}.",
      system::state_label(d.state), scale.step, words.length_unit, words.length(b.outer_across),
      words.length(b.outer_along), words.length(b.outer_diagonal),
      words.length(d.temperatures.estimated_bow));
  return figure;
}

} // namespace hangtrue::figures
