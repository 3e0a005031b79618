#include "viz/figures/figure_parts.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <numbers>

namespace hangtrue
{

Colour part_colour(Part part)
{
  switch (part) {
  case Part::outer_skin:
  case Part::inner_skin:
    return tone(0.88, 0.025, 215.0);
  case Part::rim:
  case Part::stiffener:
    return tone(0.80, 0.035, 215.0);
  case Part::jamb:
    return tone(0.86, 0.008, 90.0);
  case Part::pin:
    return tone(0.74, 0.075, 60.0);
  case Part::insulation:
    return tone(0.95, 0.03, 95.0);
  case Part::strip:
    return tone(0.90, 0.04, 140.0);
  case Part::hollow:
    return tone(0.97, 0.0, 0.0);
  default: // leaves, lugs and knuckles
    return tone(0.83, 0.045, 75.0);
  }
}

Layer plain_layer(const Surface& surface, const BodyMesh& body, const std::vector<Vec3>* moves,
                  double scale)
{
  Layer layer;
  layer.surface = &surface;
  layer.at = places(surface, body, moves, scale);
  for (const Part p : surface.part)
    layer.colours.push_back(part_colour(p));
  return layer;
}

Layer outline_layer(const Surface& surface, const BodyMesh& body, double width)
{
  Layer layer;
  layer.surface = &surface;
  layer.at = places(surface, body);
  layer.pieces = false;
  layer.line = width;
  layer.line_colour = faint();
  return layer;
}

void put_gravity_mark(Page& page, Spot at)
{
  constexpr double r = 1.8;
  circle(page, at, r, Colour{1.0, 1.0, 1.0}, Stroke{ink(), 0.35, Dash::solid});
  for (const int quarter : {0, 2}) {
    Shape shape;
    shape.spots.push_back(at);
    for (int i = 0; i <= 8; ++i) {
      const double a = (quarter + i / 8.0) * 0.5 * std::numbers::pi;
      shape.spots.push_back({at.x + r * std::cos(a), at.y + r * std::sin(a)});
    }
    shape.closed = true;
    shape.fill = ink();
    page.shapes.push_back(shape);
  }
}

double put_lines(Page& page, Spot at, const std::vector<std::string>& lines, double height)
{
  double y = at.y;
  for (const auto& l : lines) {
    page.words.push_back({{at.x, y}, l, height, Side::left});
    y += 1.75 * height;
  }
  return y;
}

Surface bare_face(const Door& door, const Surface& surface, const BodyMesh& body)
{
  Surface face = face_at(surface, body, depth(door));
  const std::vector<Vec3> at = places(face, body);
  const auto covered = [&](const std::vector<int>& piece) {
    Vec3 middle;
    for (const int n : piece)
      middle += (1.0 / static_cast<double>(piece.size())) * at[n];
    return std::any_of(door.hinges.begin(), door.hinges.end(), [&](const Hinge& hinge) {
      const double half = 0.5 * hinge.leaf.length;
      return hinge.kind == HingeKind::barrels && middle.x < hinge.leaf.width &&
             std::abs(middle.z - hinge.at) < half;
    });
  };
  std::size_t kept = 0;
  for (std::size_t p = 0; p < face.pieces.size(); ++p) {
    if (covered(face.pieces[p]))
      continue;
    face.pieces[kept] = face.pieces[p];
    face.part[kept] = face.part[p];
    face.knuckle[kept] = face.knuckle[p];
    face.cell[kept] = face.cell[p];
    ++kept;
  }
  face.pieces.resize(kept);
  face.part.resize(kept);
  face.knuckle.resize(kept);
  face.cell.resize(kept);
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

double round_factor(double most)
{
  double factor = 1.0;
  for (double decade = 1.0; decade < 1e7; decade *= 10.0)
    for (const double step : {1.0, 2.0, 5.0})
      if (decade * step <= most)
        factor = decade * step;
  return factor;
}

std::string larger(double factor)
{
  return factor > 1.0 ? fmt::format("drawn {:.0f} times larger", factor) : "drawn to scale";
}

} // namespace hangtrue
