// SPDX-License-Identifier: GPL-3.0-or-later
#include "solver/fe/cell_values.hpp"
#include "viz/figures/figure_parts.hpp"

#include <fmt/format.h>

#include <cmath>
#include <numbers>

namespace hangtrue::figures
{

namespace
{

// Surfaces of all bodies, built once for the three views.
struct Bodies {
  std::vector<scene::Surface> surfaces;
  std::vector<scene::Layer> layers;
  std::vector<Vec3> corners; ///< of the box round everything, m
};

Bodies bodies_of(const mesh::Mesh& mesh)
{
  std::vector<const mesh::BodyMesh*> all{&mesh.door, &mesh.frame};
  for (const auto& pin : mesh.pins)
    all.push_back(&pin);
  Bodies result;
  for (const auto* body : all)
    result.surfaces.push_back(scene::surface_of(*body, fe::is_steel));
  std::vector<Vec3> places;
  for (std::size_t i = 0; i < all.size(); ++i) {
    result.layers.push_back(plain_layer(result.surfaces[i], *all[i]));
    places.insert(places.end(), result.layers.back().positions.begin(),
                  result.layers.back().positions.end());
  }
  result.corners = box_corners(places);
  return result;
}

// Everything stays clear of `rightmost`, where the frame ends on the page.
void dimension_front(page::Page& page, const scene::Window& window, const door::Door& door,
                     const UnitFormatter& words, double rightmost)
{
  const double w = door.panel.width;
  const double h = door.panel.height;
  const double y = door::depth(door);
  const auto at = [&](double x, double z) { return scene::on_page(window, {x, y, z}); };
  page::dimension(page, at(w, 0.0), at(0.0, 0.0), -7.0, words.size(w));
  page::dimension(page, at(w, 0.0), at(w, h), 7.0, words.size(h));
  // Heights of the hinges, on the other side, each from the lower edge.
  double away = -(rightmost - at(0.0, 0.0).x) - 7.0;
  for (const auto& hinge : door.hinges) {
    const std::string text = words.size(hinge.position);
    page::dimension(page, at(0.0, 0.0), at(0.0, hinge.position), away, text);
    const bool beside =
        page::text_width(text, page::letters) > at(0.0, 0.0).y - at(0.0, hinge.position).y - 5.0;
    away -= beside ? 5.0 + page::text_width(text, page::letters) : 6.0;
  }
}

std::vector<std::string> facts(const door::Door& door, const analysis::OpenDoorResult& d,
                               const UnitFormatter& words)
{
  const door::Hinge& hinge = door.hinges.front();
  const Vec3& g = d.centre_of_gravity;
  std::vector<std::string> lines{
      "Weight " + words.force(d.weight) + " with its hinge halves",
      "Centre of gravity, marked:",
      "   " + words.size(g.x) + " from the hinge edge",
      "   " + words.size(g.z) + " above the lower edge",
      "   " + words.size(g.y) + " from the fire face",
      fmt::format("Skins {} outside, {} inside", words.size(door.panel.outer_skin),
                  words.size(door.panel.inner_skin)),
      fmt::format("Rim {} x {}, wall {}", words.size(door.rim.width), words.size(door.rim.depth),
                  words.size(door.rim.wall)),
      "Insulation: " + door.insulation.kind,
      fmt::format("Pins {}, play {}", words.size(hinge.pin_diameter),
                  words.length(hinge.clearance)),
      fmt::format("Opening drawn {:.0f} deg", door.swing * 180.0 / std::numbers::pi),
  };
  return lines;
}

} // namespace

Figure door_figure(const door::Door& door, const mesh::Mesh& mesh,
                   const analysis::OpenDoorResult& d, const UnitFormatter& words,
                   const FigureOptions& form)
{
  Figure figure;
  figure.name = "door";
  page::Page& page = figure.page;
  page.width = form.size.width;
  page.height = form.size.height;
  const double top = plots::draw_heading(page, {"The door as drawn", door.name}) + 4.0;
  const Bodies bodies = bodies_of(mesh);
  const Vec3 left{-1.0, 0.0, 0.0}; // seen from outside the latch edge is at the left
  const Vec3 up{0.0, 0.0, 1.0};

  const double wide = 0.56 * page.width;
  // One scale for both views at the left, space for dimensions and a third of the height between.
  const Vec3 size = bodies.corners.back() - bodies.corners.front();
  const double room = page.height - top;
  const double scale =
      std::min((wide - 48.0) / size.x, (room - 24.0) / (size.z + size.y)); // mm on paper per m
  const double edge_high = scale * size.y + 6.0;
  scene::Window front{{4.0, top + edge_high}, wide, room - edge_high, {left, up, {}, wide / scale}};
  const Vec3 middle = 0.5 * (bodies.corners.front() + bodies.corners.back());
  // A little to the right for the text at the left, and up for that below.
  front.view.centre = middle + Vec3{-4.0 / scale, 0.0, -2.5 / scale};
  scene::draw_layers(page, front, bodies.layers, form.dots);
  // The view along the axis is above, to the same scale, the outer face towards the front view.
  scene::Window edge = front;
  edge.position = {4.0, top};
  edge.height = edge_high;
  edge.view.up = {0.0, -1.0, 0.0};
  edge.view.centre = {front.view.centre.x, middle.y, middle.z};
  scene::draw_layers(page, edge, bodies.layers, form.dots);

  const double right = 4.0 + wide + 2.0;
  const double slant_high = 0.52 * (page.height - top);
  const double c = std::cos(35.0 * std::numbers::pi / 180.0);
  const double s = std::sin(35.0 * std::numbers::pi / 180.0);
  const double tilt = 0.35; // rad, view from above
  const Vec3 across{-c, s, 0.0};
  const Vec3 into{-s * std::cos(tilt), -c * std::cos(tilt), -std::sin(tilt)};
  const scene::Window slant = scene::fitted({right, top}, page.width - right - 3.0, slant_high,
                                            across, cross(across, into), bodies.corners, 0.04);
  scene::draw_layers(page, slant, bodies.layers, form.dots);

  const double rightmost =
      scene::on_page(front, bodies.corners.front()).x; // least x, seen from outside
  dimension_front(page, front, door, words, rightmost);
  const auto on_edge = [&](double x, double y) { return scene::on_page(edge, {x, y, 0.0}); };
  page::dimension(page, on_edge(door.panel.width, door::depth(door)),
                  on_edge(door.panel.width, 0.0), 6.0, words.size(door::depth(door)));
  for (const scene::Window& w : {front, edge, slant})
    draw_gravity_mark(page, scene::on_page(w, d.centre_of_gravity));
  draw_text_lines(page, {right + 2.0, top + slant_high + 4.0}, facts(door, d, words), 2.2);
  figure.caption = fmt::format(
      "The door as drawn, open at {:.0f} deg: from outside (hinges at the right), along the hinge "
      "axis to the same scale, and at a slant. Weight {} with its hinge halves; the quartered disc "
      "marks the centre of gravity. A door of the other hand is the mirror image.",
      door.swing * 180.0 / std::numbers::pi, words.force(d.weight));
  return figure;
}

} // namespace hangtrue::figures
