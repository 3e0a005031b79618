// SPDX-License-Identifier: GPL-3.0-or-later
#include "solver/contact/gasket_model.hpp"

#include "solver/heat/boundary_faces.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>

namespace hangtrue::contact
{

namespace
{

// Place on a rectangle with round corners, `arc` m along it.
Vec3 on_line(const door::Door& door, double arc)
{
  const double inset = door.fire.gasket_inset;
  const double r = door.gasket.corner;
  const double w = door.panel.width - 2.0 * inset;
  const double h = door.panel.height - 2.0 * inset;
  const double quarter = 0.5 * std::numbers::pi * r;
  // Sides in turn, each followed by its corner: along +x, +z, -x, -z.
  double turn = 0.0;
  Vec3 position{inset + r, 0.0, inset};
  for (int side = 0; side < 4; ++side) {
    const double straight = (side % 2 == 0 ? w : h) - 2.0 * r;
    const Vec3 along{std::cos(turn), 0.0, std::sin(turn)};
    const Vec3 inwards{-std::sin(turn), 0.0, std::cos(turn)};
    if (arc <= straight)
      return position + arc * along;
    arc -= straight;
    position += straight * along;
    if (arc <= quarter && r > 0.0) {
      const double a = arc / r;
      return position + r * std::sin(a) * along + r * (1.0 - std::cos(a)) * inwards;
    }
    arc -= quarter;
    position += r * along + r * inwards;
    turn += 0.5 * std::numbers::pi;
  }
  return position;
}

double line_length(const door::Door& door)
{
  const double inset = door.fire.gasket_inset;
  return 2.0 * (door.panel.width + door.panel.height - 4.0 * inset) -
         (8.0 - 2.0 * std::numbers::pi) * door.gasket.corner;
}

std::array<double, 3> quadratic(double s)
{
  return {(1.0 - s) * (1.0 - 2.0 * s), 4.0 * s * (1.0 - s), s * (2.0 * s - 1.0)};
}

} // namespace

std::vector<GasketSegment> gasket_line(const door::Door& door, int minimum)
{
  const double length = line_length(door);
  // Relative to the door: a door of another size has as many. A narrow one has enough of them.
  constexpr double shorter_side = 15.0;
  constexpr double maximum = 256.0;
  const double target =
      std::ceil(shorter_side * length / std::min(door.panel.width, door.panel.height));
  const int count = std::max(minimum, static_cast<int>(std::min(target, maximum)));
  std::vector<GasketSegment> segments;
  for (int i = 0; i < count; ++i) {
    const double arc = length * (i + 0.5) / count;
    segments.push_back({on_line(door, arc), arc, length / count});
  }
  return segments;
}

LineLoad line_load(const door::Gasket& gasket, double squeeze)
{
  const auto& c = gasket.curve;
  auto slope = [&](std::size_t i) {
    return (c[i + 1].second - c[i].second) / (c[i + 1].first - c[i].first);
  };
  if (squeeze <= c.front().first)
    return {0.0, slope(0)};
  std::size_t i = 0;
  while (i + 2 < c.size() && squeeze > c[i + 1].first)
    ++i;
  return {c[i].second + slope(i) * (squeeze - c[i].first), slope(i)};
}

double sealing_squeeze(const door::Gasket& gasket)
{
  const auto& c = gasket.curve;
  std::size_t i = 0;
  while (i + 2 < c.size() && c[i + 1].second < gasket.sealing)
    ++i;
  return c[i].first + (gasket.sealing - c[i].second) * (c[i + 1].first - c[i].first) /
                          (c[i + 1].second - c[i].second);
}

SkinFace::SkinFace(const fe::Discretization& space, mesh::Part skin, double y)
{
  const mesh::BodyMesh& body = space.body();
  const auto faces = heat::outer_faces(
      space, [skin](const mesh::Hex27& cell) { return cell.part == skin; },
      [y](const mesh::Hex27&, const Vec3& middle, const Vec3& normal) {
        return std::abs(middle.y - y) < 1e-7 && std::abs(normal.y) > 0.9 ? 0 : -1;
      });
  for (const auto& face : faces) {
    const Vec3 origin = body.nodes[face.node[0]];
    tiles_.push_back(
        {face.node, origin, body.nodes[face.node[2]] - origin, body.nodes[face.node[6]] - origin});
  }
}

std::vector<NodeWeight> SkinFace::at(double x, double z) const
{
  const Tile* best = nullptr;
  double nearest = 1e9;
  double s = 0.0;
  double t = 0.0;
  for (const auto& tile : tiles_) {
    const Vec3 r{x - tile.origin.x, 0.0, z - tile.origin.z};
    const double a = dot(r, tile.first) / dot(tile.first, tile.first);
    const double b = dot(r, tile.second) / dot(tile.second, tile.second);
    const double outside = std::max({-a, a - 1.0, -b, b - 1.0, 0.0}); // in cells; 0 inside this one
    if (outside < nearest) {
      nearest = outside;
      best = &tile;
      s = std::clamp(a, 0.0, 1.0);
      t = std::clamp(b, 0.0, 1.0);
    }
  }
  const auto along = quadratic(s);
  const auto across = quadratic(t);
  std::vector<NodeWeight> result;
  for (int j = 0; j < 3; ++j)
    for (int i = 0; i < 3; ++i)
      if (std::abs(along[i] * across[j]) > 1e-12)
        result.push_back({best->node[i + 3 * j], along[i] * across[j]});
  return result;
}

} // namespace hangtrue::contact
