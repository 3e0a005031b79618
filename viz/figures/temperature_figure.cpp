// SPDX-License-Identifier: GPL-3.0-or-later
#include "solver/fe/cell_values.hpp"
#include "solver/heat/thermal_state.hpp"
#include "viz/figures/figure_parts.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

namespace hangtrue::figures
{

namespace
{

struct Hottest {
  Vec3 place;
  double value = -1e300;
};

Hottest hottest_of(const scene::Surface& face, const std::vector<Vec3>& positions,
                   const std::vector<double>& values)
{
  Hottest hottest;
  for (const auto& piece : face.pieces)
    for (const int n : piece)
      if (values[n] > hottest.value)
        hottest = {positions[n], values[n]};
  return hottest;
}

scene::Layer value_layer(const scene::Surface& surface, const std::vector<Vec3>& positions,
                         const std::vector<double>& values, const scene::ColourScale& scale)
{
  scene::Layer layer;
  layer.surface = &surface;
  layer.positions = positions;
  layer.values = values;
  layer.scale = scale;
  layer.lit = false;
  return layer;
}

void put_value_mark(page::Page& page, page::PagePoint position, const std::string& text,
                    double right_end)
{
  page::circle(page, position, 0.9, page::Colour{1.0, 1.0, 1.0},
               page::Stroke{page::ink(), 0.35, page::Dash::solid});
  const bool right = position.x + 2.0 + page::text_width(text, page::letters) < right_end;
  page.labels.push_back({{right ? position.x + 1.8 : position.x - 1.8, position.y - 1.4},
                         text,
                         page::letters,
                         right ? page::TextAnchor::left : page::TextAnchor::right,
                         true,
                         0.0,
                         page::ink(),
                         true});
}

// The door from one of its sides with contour lines on its skin, `face`; the limit counts for the
// room side only.
void put_skin(page::Page& page, const scene::Window& window, const scene::Surface& all,
              const scene::Surface& face, const mesh::BodyMesh& body,
              const std::vector<double>& values, const scene::ColourScale& scale, bool limited,
              const FigureOptions& form, const UnitFormatter& words)
{
  const std::vector<Vec3> positions = scene::point_positions(all, body);
  scene::draw_layers(page, window, {value_layer(all, positions, values, scale)}, form.dots);
  std::vector<double> levels = scene::band_ends(scale);
  if (limited && scale.limit)
    levels.push_back(*scale.limit);
  scene::draw_contours(page, window, scene::contour_lines(face, positions, values, levels), scale);
  const Hottest maximum = hottest_of(face, positions, values);
  put_value_mark(page, scene::on_page(window, maximum.place),
                 fmt::format("{:.0f} {}", maximum.value, words.temperature_unit),
                 window.position.x + window.width);
}

// A cut square to the hinge axis through the rim of the latch edge, where nothing but the rim
// bridges the insulation.
void put_cut(page::Page& page, page::PagePoint position, double width, double height,
             const door::Door& door, const mesh::Mesh& mesh, const std::vector<double>& nodes,
             const scene::ColourScale& scale, const FigureOptions& form)
{
  const double d = door::depth(door);
  const double mm = height / (1.25 * d);
  const double length = std::min(width / mm / 1.04, door.panel.width);
  const Vec3 middle{door.panel.width - 0.5 * length, 0.5 * d, 0.5 * door.panel.height};
  const auto wanted = [&](const mesh::Hex27& cell) {
    return std::any_of(cell.node.begin(), cell.node.end(),
                       [&](int n) { return mesh.door.nodes[n].x >= door.panel.width - length; });
  };
  const scene::Surface cut = scene::plane_cut(mesh.door, wanted, middle, {0.0, 0.0, 1.0});
  scene::Window window{
      position, width, height, {{-1.0, 0.0, 0.0}, {0.0, -1.0, 0.0}, middle, width / mm}};
  const std::vector<Vec3> where = scene::point_positions(cut, mesh.door);
  const std::vector<double> values = scene::values_at(cut, nodes);
  scene::draw_layers(page, window, {value_layer(cut, where, values, scale)}, form.dots);
  scene::draw_contours(page, window,
                       scene::contour_lines(cut, where, values, scene::band_ends(scale)), scale);
}

} // namespace

Figure temperature_figure(const door::Door& door, const mesh::Mesh& mesh,
                          const analysis::OpenDoorResult& d, const std::vector<double>& temperature,
                          std::optional<double> touch, const UnitFormatter& words,
                          const FigureOptions& form)
{
  Figure figure;
  figure.name = "temperature";
  page::Page& page = figure.page;
  page.width = form.size.width;
  page.height = form.size.height;
  const heat::TemperatureSummary& summary = d.temperatures;
  const double top =
      plots::draw_heading(page, {"Temperatures", fmt::format("{}, {}; gas {}", door.name,
                                                             system::state_label(d.state),
                                                             words.temperature(summary.gas))}) +
      4.0;
  std::vector<double> nodes;
  for (const double t : temperature)
    nodes.push_back(words.temperature_number(t));
  const scene::Surface all = scene::surface_of(mesh.door, fe::is_steel);
  const std::vector<double> values = scene::values_at(all, nodes);
  std::optional<double> limit;
  if (touch)
    limit = words.temperature_number(*touch);
  const scene::ColourScale scale = scene::colour_scale(values, 14, words.temperature_unit, limit);

  constexpr double key_wide = 34.0;
  const double each = 0.5 * (page.width - key_wide - 10.0);
  const double cut_high = 0.24 * (page.height - top);
  const double skin_high = page.height - top - cut_high - 12.0;
  const Vec3 up{0.0, 0.0, 1.0};
  const std::vector<Vec3> corners = box_corners(scene::point_positions(all, mesh.door));
  const scene::Window inside =
      scene::fitted({4.0, top}, each, skin_high, {1.0, 0.0, 0.0}, up, corners, 0.03);
  const scene::Window outside =
      scene::fitted({6.0 + each, top}, each, skin_high, {-1.0, 0.0, 0.0}, up, corners, 0.03);
  put_skin(page, inside, all, scene::plane_faces(all, mesh.door, 0.0), mesh.door, values, scale,
           false, form, words);
  put_skin(page, outside, all, bare_face(door, all, mesh.door), mesh.door, values, scale, true,
           form, words);
  put_value_mark(page,
                 scene::on_page(outside, {0.5 * door.panel.width, 0.0, 0.5 * door.panel.height}),
                 words.temperature(summary.outside_middle), outside.position.x + outside.width);
  for (const auto& [window, text] : {std::pair{inside, "fire side, hinges at the left"},
                                     std::pair{outside, "room side, hinges at the right"}})
    page.labels.push_back({{window.position.x + 0.5 * window.width, top - 0.8},
                           text,
                           page::letters,
                           page::TextAnchor::middle});

  const double cut_top = top + skin_high + 5.0;
  put_cut(page, {4.0, cut_top}, 2.0 * each + 2.0, cut_high, door, mesh, nodes, scale, form);
  page.labels.push_back({{4.0 + each, cut_top - 1.0},
                         "cut across at mid height, latch edge at the left: fire above, room below",
                         page::letters,
                         page::TextAnchor::middle});
  page.labels.push_back(
      {{4.0 + each, page.height - 2.0},
       "the rim tube carries heat past the insulation; outside it is hottest over the rim",
       page::letters,
       page::TextAnchor::middle});
  scene::draw_key(page, {page.width - key_wide + 3.0, top + 2.0}, page.height - top - 8.0, scale,
                  limit ? "temperature, limit outside" : "temperature");
  figure.caption = fmt::format(
      "Temperatures, {} (gas {}): the skin on the fire side, the skin on the room side, and a cut "
      "through the rim of the latch edge at mid height. Outside {} in the middle and {} at most. "
      "Thin lines are where the colour changes{}.",
      system::state_label(d.state), words.temperature(summary.gas),
      words.temperature(summary.outside_middle), words.temperature(summary.outside_hottest),
      limit ? ", a heavy line on the room side is the limit there" : "");
  return figure;
}

} // namespace hangtrue::figures
