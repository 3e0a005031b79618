// SPDX-License-Identifier: GPL-3.0-or-later
#include "viz/figures/figure_parts.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <numbers>

namespace hangtrue::figures
{

page::Colour part_colour(mesh::Part part)
{
  switch (part) {
  case mesh::Part::outer_skin:
  case mesh::Part::inner_skin:
    return page::tone(0.88, 0.025, 215.0);
  case mesh::Part::rim:
  case mesh::Part::stiffener:
    return page::tone(0.80, 0.035, 215.0);
  case mesh::Part::jamb:
    return page::tone(0.86, 0.008, 90.0);
  case mesh::Part::pin:
    return page::tone(0.74, 0.075, 60.0);
  case mesh::Part::insulation:
    return page::tone(0.95, 0.03, 95.0);
  case mesh::Part::strip:
    return page::tone(0.90, 0.04, 140.0);
  case mesh::Part::hollow:
    return page::tone(0.97, 0.0, 0.0);
  default: // leaves, lugs and knuckles
    return page::tone(0.83, 0.045, 75.0);
  }
}

scene::Layer plain_layer(const scene::Surface& surface, const mesh::BodyMesh& body,
                         const std::vector<Vec3>* displacements, double scale)
{
  scene::Layer layer;
  layer.surface = &surface;
  layer.positions = scene::point_positions(surface, body, displacements, scale);
  for (const mesh::Part p : surface.part)
    layer.colours.push_back(part_colour(p));
  return layer;
}

scene::Layer outline_layer(const scene::Surface& surface, const mesh::BodyMesh& body, double width)
{
  scene::Layer layer;
  layer.surface = &surface;
  layer.positions = scene::point_positions(surface, body);
  layer.pieces = false;
  layer.line = width;
  layer.line_colour = page::faint();
  return layer;
}

void draw_gravity_mark(page::Page& page, page::PagePoint position)
{
  constexpr double r = 1.8;
  page::circle(page, position, r, page::Colour{1.0, 1.0, 1.0},
               page::Stroke{page::ink(), 0.35, page::Dash::solid});
  for (const int quarter : {0, 2}) {
    page::PathShape shape;
    shape.spots.push_back(position);
    for (int i = 0; i <= 8; ++i) {
      const double a = (quarter + i / 8.0) * 0.5 * std::numbers::pi;
      shape.spots.push_back({position.x + r * std::cos(a), position.y + r * std::sin(a)});
    }
    shape.closed = true;
    shape.fill = page::ink();
    page.shapes.push_back(shape);
  }
}

double draw_text_lines(page::Page& page, page::PagePoint position,
                       const std::vector<std::string>& lines, double height)
{
  double y = position.y;
  for (const auto& l : lines) {
    page.labels.push_back({{position.x, y}, l, height, page::TextAnchor::left});
    y += 1.75 * height;
  }
  return y;
}

scene::Surface bare_face(const door::Door& door, const scene::Surface& surface,
                         const mesh::BodyMesh& body)
{
  scene::Surface face = scene::plane_faces(surface, body, door::depth(door));
  const std::vector<Vec3> positions = scene::point_positions(face, body);
  const auto covered = [&](const std::vector<int>& piece) {
    Vec3 middle;
    for (const int n : piece)
      middle += (1.0 / static_cast<double>(piece.size())) * positions[n];
    return std::any_of(door.hinges.begin(), door.hinges.end(), [&](const door::Hinge& hinge) {
      const double half = 0.5 * hinge.leaf.length;
      return hinge.kind == door::HingeKind::barrels && middle.x < hinge.leaf.width &&
             std::abs(middle.z - hinge.position) < half;
    });
  };
  std::size_t cache = 0;
  for (std::size_t p = 0; p < face.pieces.size(); ++p) {
    if (covered(face.pieces[p]))
      continue;
    face.pieces[cache] = face.pieces[p];
    face.part[cache] = face.part[p];
    face.knuckle[cache] = face.knuckle[p];
    face.cell[cache] = face.cell[p];
    ++cache;
  }
  face.pieces.resize(cache);
  face.part.resize(cache);
  face.knuckle.resize(cache);
  face.cell.resize(cache);
  return face;
}

std::vector<Vec3> box_corners(const std::vector<Vec3>& places)
{
  Vec3 low{1e300, 1e300, 1e300};
  Vec3 high{-1e300, -1e300, -1e300};
  for (const auto& p : places) {
    low = {std::min(low.x, p.x), std::min(low.y, p.y), std::min(low.z, p.z)};
    high = {std::max(high.x, p.x), std::max(high.y, p.y), std::max(high.z, p.z)};
  }
  std::vector<Vec3> corners;
  for (const double x : {low.x, high.x})
    for (const double y : {low.y, high.y})
      for (const double z : {low.z, high.z})
        corners.push_back({x, y, z});
  return corners;
}

double round_factor(double maximum)
{
  double factor = 1.0;
  for (double decade = 1.0; decade < 1e7; decade *= 10.0)
    for (const double step : {1.0, 2.0, 5.0})
      if (decade * step <= maximum)
        factor = decade * step;
  return factor;
}

std::string magnification_text(double factor)
{
  return factor > 1.0 ? fmt::format("drawn {:.0f} times larger", factor) : "drawn to scale";
}

} // namespace hangtrue::figures
