// SPDX-License-Identifier: GPL-3.0-or-later
#include "meshing/section/hinge_cross_section.hpp"

#include <algorithm>
#include <cmath>
#include <iterator>
#include <numbers>

namespace hangtrue::section
{

namespace
{

constexpr double pi = std::numbers::pi;

// Angles of one circle of a half, measured from the direction towards the face (-y), positive
// towards the foot: first those where the neck (or lug) meets the ring, then round to the start.
struct Round {
  std::vector<double> angle;           // rad, rising, one turn, the first not repeated at the end
  std::size_t sector = 0;              // index of the first angle of the neck
  std::size_t necks = 0;               // cells of the neck
  std::array<std::size_t, 4> corner{}; // indices of the corners of the pin's core
};

// Boundaries of the web and the neck on the foot, which ends where the nominal land was snapped to.
std::size_t web_boundaries(const door::Hinge& hinge, const GridLines& foot)
{
  const auto last = std::find(foot.begin(), foot.end(), snapped(foot, hinge.leaf.thickness));
  return static_cast<std::size_t>(last - foot.begin()) + 1;
}

// Columns of the web from the edge. Its foot ends at a grid line, which may be that of a wall less
// than the snap distance away; the web itself has its nominal thickness, since its bending
// stiffness goes with the cube of it.
std::vector<double> web_columns(const door::Hinge& hinge, const GridLines& foot)
{
  std::vector<double> columns(foot.begin(),
                              foot.begin() + std::ptrdiff_t(web_boundaries(hinge, foot)));
  const double station = columns.back();
  for (double& u : columns)
    u *= hinge.leaf.thickness / station;
  return columns;
}

// The neck's columns as angles on the outside of the ring.
std::vector<double> neck_angles(const door::Door& door, const door::Hinge& hinge,
                                const GridLines& foot)
{
  const double radius = door::outside_radius(hinge);
  const double half = 0.5 * door.reveal;
  std::vector<double> angles;
  if (hinge.kind == door::HingeKind::barrels) {
    for (const double u : web_columns(hinge, foot))
      angles.push_back(std::asin((u + half) / radius));
    return angles;
  }
  // A lug widens from its rounded end to its foot: from straight down to 60 degrees.
  const double first = std::asin(std::min(0.6, half / radius));
  const double last = pi / 3.0;
  for (const double u : foot)
    angles.push_back(first + (last - first) * u / foot.back());
  return angles;
}

int cells_of_arc(double from, double to, double step)
{
  return std::max(1, static_cast<int>(std::ceil((to - from) / step - 1e-9)));
}

void add_arc(std::vector<double>& angles, double from, double to, int n)
{
  for (int k = 1; k <= n; ++k)
    angles.push_back(k == n ? to : from + (to - from) * k / n);
}

// The bottom quarter (that holds the neck) and the top must have equally many cells, as must the
// two sides, or the core of the pin could not be a grid; all numbers even, since the core has half
// as many.
Round divide_circle(const std::vector<double>& neck, int around)
{
  const double step = 2.0 * pi / around;
  const double widest = neck.back();
  const double corner = widest > 0.21 * pi ? widest : 0.25 * pi;
  Round round;
  std::vector<double>& a = round.angle;
  a.push_back(-corner);
  round.corner[0] = 0;
  const int right = corner > widest + 1e-9 ? cells_of_arc(widest, corner, step) : 0;
  int left = cells_of_arc(-corner, neck.front(), step);
  left += (left + static_cast<int>(neck.size()) - 1 + right) % 2;
  add_arc(a, -corner, neck.front(), left);
  round.sector = a.size() - 1;
  a.insert(a.end(), neck.begin() + 1, neck.end());
  round.necks = neck.size() - 1;
  if (right > 0)
    add_arc(a, widest, corner, right);
  round.corner[1] = a.size() - 1;
  int side = cells_of_arc(corner, 0.75 * pi, step);
  side += side % 2;
  add_arc(a, corner, 0.75 * pi, side);
  round.corner[2] = a.size() - 1;
  add_arc(a, 0.75 * pi, 1.25 * pi, static_cast<int>(round.corner[1]));
  round.corner[3] = a.size() - 1;
  add_arc(a, 1.25 * pi, 2.0 * pi - corner, side);
  a.pop_back(); // closes on the first
  return round;
}

// All inputs for drawing one half.
struct Half {
  const door::Door& door;
  const door::Hinge& hinge;
  HalfPlace place;
  door::AxisPosition axis;
  Round round;
  Section& section;
  PlaneDrawing& drawing;

  [[nodiscard]] PlanePoint polar(double radius, double angle) const
  {
    return {axis.x + place.side * radius * std::sin(angle), axis.y - radius * std::cos(angle)};
  }
  int point(double u, double y) { return drawing.point(place.edge + place.side * u, y); }
  int new_patch(mesh::Part part)
  {
    section.patches.push_back({false, part, place.hinge, {}});
    return static_cast<int>(section.patches.size()) - 1;
  }
  // Counter-clockwise on either side.
  void quad(int a, int b, int c, int d, int label)
  {
    if (place.side > 0.0)
      drawing.patch({a, b, c, d}, label);
    else
      drawing.patch({b, a, d, c}, label);
  }
};

std::vector<int> circle_points(Half& half, double radius)
{
  std::vector<int> points;
  for (const double angle : half.round.angle) {
    const PlanePoint p = half.polar(radius, angle);
    points.push_back(half.drawing.point(p.x, p.y));
  }
  return points;
}

void join_circle(Half& half, const std::vector<int>& points, int centre)
{
  for (std::size_t i = 0; i < points.size(); ++i)
    half.drawing.curve(points[i], points[(i + 1) % points.size()], 1, centre);
}

// The ring between bore and outside; gives the points of its outermost circle.
std::vector<int> draw_ring(Half& half, const std::vector<int>& bore, double bore_at, int centre,
                           int through)
{
  const int label = half.new_patch(mesh::Part::ring);
  std::vector<int> inner = bore;
  const double outside = door::outside_radius(half.hinge);
  for (int layer = 1; layer <= through; ++layer) {
    const double radius = bore_at + (outside - bore_at) * layer / through;
    const std::vector<int> outer = circle_points(half, radius);
    join_circle(half, outer, centre);
    for (std::size_t i = 0; i < outer.size(); ++i) {
      const std::size_t next = (i + 1) % outer.size();
      half.quad(inner[i], outer[i], outer[next], inner[next], label);
    }
    inner = outer;
  }
  return inner;
}

// Points between two ends, both included.
std::vector<int> straight(Half& half, int from, int to, std::size_t cells)
{
  std::vector<int> points{from};
  const PlanePoint a = half.drawing.points[from];
  const PlanePoint b = half.drawing.points[to];
  for (std::size_t k = 1; k < cells; ++k) {
    const double t = static_cast<double>(k) / static_cast<double>(cells);
    points.push_back(half.drawing.point(a.x + t * (b.x - a.x), a.y + t * (b.y - a.y)));
  }
  points.push_back(to);
  return points;
}

// Points at a fraction of the distance from `inner` to `outer`, one for each; `inner` has a point
// for every second outer one.
std::vector<int> between(Half& half, const std::vector<int>& inner, const std::vector<int>& outer,
                         double share)
{
  std::vector<int> points;
  for (std::size_t i = 0; i < outer.size(); ++i) {
    const PlanePoint a = half.drawing.points[inner[i / 2]];
    const PlanePoint b = half.drawing.points[inner[(i + 1) / 2 % inner.size()]];
    const PlanePoint c = half.drawing.points[outer[i]];
    const PlanePoint from{0.5 * (a.x + b.x), 0.5 * (a.y + b.y)};
    points.push_back(
        half.drawing.point(from.x + share * (c.x - from.x), from.y + share * (c.y - from.y)));
  }
  return points;
}

// Six cells lead from four on the outside to two inside, all the way round. Pressure at the surface
// decays inwards: the core needs half as many cells round.
void draw_halving(Half& half, const std::vector<int>& inner, const std::vector<int>& middle,
                  const std::vector<int>& outer, int label)
{
  for (std::size_t o = 0; o < outer.size(); o += 4) {
    const std::size_t end = (o + 4) % outer.size();
    const int i0 = inner[o / 2];
    const int i1 = inner[o / 2 + 1];
    const int i2 = inner[end / 2];
    half.quad(i0, outer[o], outer[o + 1], middle[o + 1], label);
    half.quad(middle[o + 1], outer[o + 1], outer[o + 2], middle[o + 2], label);
    half.quad(middle[o + 2], outer[o + 2], outer[o + 3], middle[o + 3], label);
    half.quad(middle[o + 3], outer[o + 3], outer[end], i2, label);
    half.quad(i0, middle[o + 1], middle[o + 2], i1, label);
    half.quad(i1, middle[o + 2], middle[o + 3], i2, label);
  }
}

// The four-sided core of a disc; gives the points round it, half as many as on the circle.
std::vector<int> draw_core(Half& half, double radius, std::size_t around, int label)
{
  std::array<int, 4> core{};
  for (std::size_t c = 0; c < 4; ++c) {
    const PlanePoint p = half.polar(radius, half.round.angle[half.round.corner[c]]);
    core[c] = half.drawing.point(p.x, p.y);
  }
  std::vector<int> inner;
  std::array<std::vector<int>, 4> sides;
  for (std::size_t c = 0; c < 4; ++c) {
    const std::size_t end = c < 3 ? half.round.corner[c + 1] : around;
    sides[c] = straight(half, core[c], core[(c + 1) % 4], (end - half.round.corner[c]) / 2);
    inner.insert(inner.end(), sides[c].begin(), sides[c].end() - 1);
  }
  if (half.place.side > 0.0) {
    half.drawing.patch(sides, label);
  } else { // mirrored: run every side backwards, in the opposite order
    std::array<std::vector<int>, 4> mirrored;
    for (std::size_t c = 0; c < 4; ++c)
      mirrored[c].assign(sides[3 - c].rbegin(), sides[3 - c].rend());
    half.drawing.patch(mirrored, label);
  }
  return inner;
}

// O-grid: a core, two layers of cells in which their number round doubles, and from there more
// layers to the given circle.
void draw_disc(Half& half, const std::vector<int>& circle, double radius, int layers)
{
  const int label = half.new_patch(mesh::Part::pin);
  const std::vector<int> inner = draw_core(half, 0.5 * radius, circle.size(), label);
  const int all = std::max(2, layers);
  auto at = [&](int layer) {
    return layer == all ? circle : between(half, inner, circle, static_cast<double>(layer) / all);
  };
  std::vector<int> from = at(2);
  draw_halving(half, inner, at(1), from, label);
  for (int layer = 3; layer <= all; ++layer) {
    const std::vector<int> to = at(layer);
    for (std::size_t i = 0; i < to.size(); ++i) {
      const std::size_t next = (i + 1) % to.size();
      half.quad(from[i], to[i], to[next], from[next], label);
    }
    from = to;
  }
}

// A grid of quadrilaterals between rows of points, each row running from the edge outwards.
void draw_rows(Half& half, const std::vector<std::vector<int>>& rows, int label)
{
  for (std::size_t r = 0; r + 1 < rows.size(); ++r)
    for (std::size_t i = 0; i + 1 < rows[r + 1].size(); ++i)
      half.quad(rows[r][i], rows[r][i + 1], rows[r + 1][i + 1], rows[r + 1][i], label);
}

std::vector<int> row(Half& half, const std::vector<double>& columns, double y)
{
  std::vector<int> points;
  points.reserve(columns.size());
  for (const double u : columns)
    points.push_back(half.point(u, y));
  return points;
}

std::vector<int> ring_sector(const Half& half, const std::vector<int>& outside)
{
  std::vector<int> points;
  for (std::size_t i = 0; i <= half.round.necks; ++i)
    points.push_back(outside[(half.round.sector + i) % outside.size()]);
  return points;
}

// Land on the face, web up to just below the barrel, neck to the barrel.
std::vector<int> draw_leaf(Half& half, const std::vector<int>& outside,
                           const door::MeshDensity& fine)
{
  const door::Leaf& leaf = half.hinge.leaf;
  const double face = door::depth(half.door);
  const double top = half.axis.y - neck_share * door::outside_radius(half.hinge);
  const std::vector<double> columns = web_columns(half.hinge, half.place.foot);
  std::vector<double> over_land = half.place.foot;
  std::copy(columns.begin(), columns.end(), over_land.begin());
  std::vector<int> foot = row(half, half.place.foot, face);
  const std::vector<int> land_top = row(half, over_land, face + leaf.thickness);
  draw_rows(half, {foot, land_top}, half.new_patch(mesh::Part::land));

  std::vector<std::vector<int>> web{land_top};
  web[0].resize(columns.size());
  const double root = face + leaf.thickness;
  const int cells = std::max(1, static_cast<int>(std::ceil((top - root) / fine.hinge_cell - 1e-9)));
  for (int k = 1; k <= cells; ++k)
    web.push_back(row(half, columns, root + (top - root) * k / cells));
  draw_rows(half, web, half.new_patch(mesh::Part::web));
  draw_rows(half, {web.back(), ring_sector(half, outside)}, half.new_patch(mesh::Part::neck));
  return foot;
}

// A plate from its foot on the face to its rounded end.
std::vector<int> draw_lug(Half& half, const std::vector<int>& outside,
                          const door::MeshDensity& fine)
{
  const std::size_t count = half.place.foot.size();
  std::vector<int> foot = row(half, half.place.foot, door::depth(half.door));
  const std::vector<int> end = ring_sector(half, outside);
  const double height = half.hinge.leaf.standoff - door::outside_radius(half.hinge);
  const double cell = std::max(fine.hinge_cell, 0.5 * door::outside_radius(half.hinge));
  const int cells = std::max(1, static_cast<int>(std::ceil(height / cell - 1e-9)));
  std::vector<std::vector<int>> rows{foot};
  for (int k = 1; k < cells; ++k) {
    std::vector<int> points;
    for (std::size_t i = 0; i < count; ++i) {
      const PlanePoint a = half.drawing.points[foot[i]];
      const PlanePoint b = half.drawing.points[end[i]];
      const double t = static_cast<double>(k) / cells;
      points.push_back(half.drawing.point(a.x + t * (b.x - a.x), a.y + t * (b.y - a.y)));
    }
    rows.push_back(points);
  }
  rows.push_back(end);
  draw_rows(half, rows, half.new_patch(mesh::Part::lug));
  return foot;
}

Half start_half(const door::Door& door, const HalfPlace& place, const door::MeshDensity& fine,
                Section& section, PlaneDrawing& drawing)
{
  const door::Hinge& hinge = door.hinges[place.hinge];
  return {door,
          hinge,
          place,
          door::pin_axis(door, hinge),
          divide_circle(neck_angles(door, hinge, place.foot), fine.around_pin),
          section,
          drawing};
}

} // namespace

std::vector<int> draw_half(const door::Door& door, const HalfPlace& place,
                           const door::MeshDensity& fine, bool filled, Section& section,
                           PlaneDrawing& drawing)
{
  Half half = start_half(door, place, fine, section, drawing);
  const int centre = drawing.point(half.axis.x, half.axis.y);
  const double bore_at = filled ? door::pin_radius(half.hinge) : door::bore_radius(half.hinge);
  const std::vector<int> bore = circle_points(half, bore_at);
  join_circle(half, bore, centre);
  if (filled)
    draw_disc(half, bore, bore_at, fine.through_ring);
  const std::vector<int> outside = draw_ring(half, bore, bore_at, centre, fine.through_ring);
  return half.hinge.kind == door::HingeKind::barrels ? draw_leaf(half, outside, fine)
                                                     : draw_lug(half, outside, fine);
}

void draw_pin(const door::Door& door, const HalfPlace& place, const door::MeshDensity& fine,
              Section& section, PlaneDrawing& drawing)
{
  Half half = start_half(door, place, fine, section, drawing);
  const int centre = drawing.point(half.axis.x, half.axis.y);
  const std::vector<int> circle = circle_points(half, door::pin_radius(half.hinge));
  join_circle(half, circle, centre);
  draw_disc(half, circle, door::pin_radius(half.hinge), fine.through_ring);
}

} // namespace hangtrue::section
