// SPDX-License-Identifier: GPL-3.0-or-later
#include "meshing/door/mass_properties.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>

namespace hangtrue::door
{

namespace
{

struct Corner {
  double x = 0.0;
  double y = 0.0;
};

// A plate cut to an outline in the section, from one position along the axis to another.
PartMass cut_plate(const std::string& part, const std::vector<Corner>& outline, const Span& along,
                   double density)
{
  double area = 0.0;
  Vec3 moment;
  for (std::size_t i = 0; i < outline.size(); ++i) {
    const Corner& a = outline[i];
    const Corner& b = outline[(i + 1) % outline.size()];
    const double twice = a.x * b.y - b.x * a.y;
    area += 0.5 * twice;
    moment += {twice * (a.x + b.x) / 6.0, twice * (a.y + b.y) / 6.0, 0.0};
  }
  const double length = along.to - along.from;
  return {part,
          std::abs(area) * length * density,
          {moment.x / area, moment.y / area, 0.5 * (along.from + along.to)}};
}

PartMass box(const std::string& part, const Vec3& from, const Vec3& to, double density)
{
  const Vec3 size = to - from;
  return {part, density * size.x * size.y * size.z, 0.5 * (from + to)};
}

// Middle of the cavity, where everything between the skins has its weight.
double cavity_middle(const Door& door)
{
  return door.panel.inner_skin + 0.5 * door.rim.depth;
}

double wall_area(double width, double depth, double wall)
{
  return width * depth - (width - 2.0 * wall) * (depth - 2.0 * wall);
}

PartMass rim_mass(const Door& door)
{
  const Panel& panel = door.panel;
  const Rim& rim = door.rim;
  // Mitred: the section swept round along its own centre line.
  const double round = 2.0 * (panel.width + panel.height - 2.0 * rim.width);
  return {"rim",
          wall_area(rim.width, rim.depth, rim.wall) * round * door.steel.density,
          {0.5 * panel.width, cavity_middle(door), 0.5 * panel.height}};
}

double wall_of(const Stiffener& s)
{
  return s.shape == StiffenerShape::flat_bar ? 0.5 * s.width : s.wall;
}

// Hollow of a tube per length; none in a flat bar.
double hollow_area(const Stiffener& s, double depth)
{
  return (s.width - 2.0 * wall_of(s)) * std::max(0.0, depth - 2.0 * s.wall);
}

// Where an upright and a level stiffener cross they are fused: steel that both would have there.
double shared_steel(const Stiffener& a, const Stiffener& b, double depth)
{
  const double hollow_in_both = (a.width - 2.0 * wall_of(a)) * (b.width - 2.0 * wall_of(b)) *
                                std::max(0.0, depth - 2.0 * std::max(a.wall, b.wall));
  return a.width * b.width * depth - hollow_area(a, depth) * b.width -
         hollow_area(b, depth) * a.width + hollow_in_both;
}

bool tube(const Stiffener& s)
{
  return s.shape == StiffenerShape::tube;
}

void add_stiffeners(const Door& door, std::vector<PartMass>& parts)
{
  const Panel& panel = door.panel;
  const Rim& rim = door.rim;
  const double y = cavity_middle(door);
  for (const auto& s : door.stiffeners) {
    const bool along = s.run == StiffenerRun::along;
    const double length = (along ? panel.height : panel.width) - 2.0 * rim.width;
    const double area = s.width * rim.depth - (tube(s) ? hollow_area(s, rim.depth) : 0.0);
    const Vec3 centre =
        along ? Vec3{s.position, y, 0.5 * panel.height} : Vec3{0.5 * panel.width, y, s.position};
    parts.push_back({"stiffener", area * length * door.steel.density, centre});
  }
  for (const auto& a : door.stiffeners)
    for (const auto& b : door.stiffeners)
      if (a.run == StiffenerRun::along && b.run == StiffenerRun::across)
        parts.push_back({"crossing of stiffeners",
                         -shared_steel(a, b, rim.depth) * door.steel.density,
                         {a.position, y, b.position}});
}

// Insulation fills what rim and stiffeners leave.
void add_insulation(const Door& door, std::vector<PartMass>& parts)
{
  const Panel& panel = door.panel;
  const Rim& rim = door.rim;
  const double density = door.insulation.density;
  const double from = panel.inner_skin;
  const double to = panel.inner_skin + rim.depth;
  const double w = rim.width;
  parts.push_back(
      box("insulation", {w, from, w}, {panel.width - w, to, panel.height - w}, density));
  for (const auto& s : door.stiffeners) {
    const bool along = s.run == StiffenerRun::along;
    const Vec3 low = along ? Vec3{s.position - 0.5 * s.width, from, w}
                           : Vec3{w, from, s.position - 0.5 * s.width};
    const Vec3 high = along ? Vec3{s.position + 0.5 * s.width, to, panel.height - w}
                            : Vec3{panel.width - w, to, s.position + 0.5 * s.width};
    parts.push_back(box("no insulation in a stiffener", low, high, -density));
  }
  for (const auto& a : door.stiffeners) // taken away twice
    for (const auto& b : door.stiffeners)
      if (a.run == StiffenerRun::along && b.run == StiffenerRun::across)
        parts.push_back(box("crossing of stiffeners",
                            {a.position - 0.5 * a.width, from, b.position - 0.5 * b.width},
                            {a.position + 0.5 * a.width, to, b.position + 0.5 * b.width}, density));
}

constexpr int arc_pieces = 400; // the chord is then within 1e-5 of the arc

// From the top of the web to the barrel, at one knuckle.
PartMass neck_mass(const Door& door, const Hinge& hinge, const Span& knuckle)
{
  const AxisPosition axis = pin_axis(door, hinge);
  const double r = outside_radius(hinge);
  const double top = axis.y - 1.05 * r; // where the sweep ends the web
  const double t = hinge.leaf.thickness;
  std::vector<Corner> outline{{0.0, top}, {t, top}};
  for (int i = arc_pieces; i >= 0; --i) {
    const double x = t * i / arc_pieces;
    outline.push_back({x, axis.y - std::sqrt(r * r - (x - axis.x) * (x - axis.x))});
  }
  return cut_plate("neck of a leaf", outline, knuckle, door.steel.density);
}

// From the foot on the face to the sixth of a turn where the rounded end begins.
PartMass lug_mass(const Door& door, const Hinge& hinge, const Span& knuckle)
{
  const AxisPosition axis = pin_axis(door, hinge);
  const double r = outside_radius(hinge);
  const double first = std::asin(std::min(0.6, -axis.x / r));
  const double last = std::numbers::pi / 3.0;
  std::vector<Corner> outline{{0.0, depth(door)}, {hinge.leaf.width, depth(door)}};
  for (int i = arc_pieces; i >= 0; --i) {
    const double angle = first + (last - first) * i / arc_pieces;
    outline.push_back({axis.x + r * std::sin(angle), axis.y - r * std::cos(angle)});
  }
  return cut_plate("lug", outline, knuckle, door.steel.density);
}

PartMass ring_mass(const Door& door, const Hinge& hinge, const Span& knuckle)
{
  const AxisPosition axis = pin_axis(door, hinge);
  const double r = outside_radius(hinge);
  const double bore = bore_radius(hinge);
  return {"knuckle",
          std::numbers::pi * (r * r - bore * bore) * (knuckle.to - knuckle.from) *
              door.steel.density,
          {axis.x, axis.y, 0.5 * (knuckle.from + knuckle.to)}};
}

void add_hinge_half(const Door& door, const Hinge& hinge, std::vector<PartMass>& parts)
{
  const Leaf& leaf = hinge.leaf;
  const double face = depth(door);
  if (hinge.kind == HingeKind::barrels) {
    const Span span = hinge_span(hinge);
    const double top = pin_axis(door, hinge).y - 1.05 * outside_radius(hinge);
    parts.push_back(box("land of a leaf", {0.0, face, span.from},
                        {leaf.width, face + leaf.thickness, span.to}, door.steel.density));
    parts.push_back(box("web of a leaf", {0.0, face + leaf.thickness, span.from},
                        {leaf.thickness, top, span.to}, door.steel.density));
  }
  for (std::size_t k = 0; k < hinge.knuckles.size(); ++k) {
    if (hinge.knuckles[k].owner != KnuckleOwner::door)
      continue;
    const double start = knuckle_start(hinge, static_cast<int>(k));
    const Span knuckle{start, start + hinge.knuckles[k].length};
    parts.push_back(hinge.kind == HingeKind::barrels ? neck_mass(door, hinge, knuckle)
                                                     : lug_mass(door, hinge, knuckle));
    parts.push_back(ring_mass(door, hinge, knuckle));
  }
}

} // namespace

std::vector<PartMass> part_masses(const Door& door)
{
  const Panel& panel = door.panel;
  const double d = depth(door);
  std::vector<PartMass> parts;
  parts.push_back(box("outer skin", {0.0, d - panel.outer_skin, 0.0},
                      {panel.width, d, panel.height}, door.steel.density));
  parts.push_back(box("inner skin", {0.0, 0.0, 0.0}, {panel.width, panel.inner_skin, panel.height},
                      door.steel.density));
  parts.push_back(rim_mass(door));
  add_stiffeners(door, parts);
  add_insulation(door, parts);
  for (const auto& hinge : door.hinges)
    add_hinge_half(door, hinge, parts);
  return parts;
}

PartMass total_mass(const std::vector<PartMass>& parts)
{
  PartMass all{"door", 0.0, {}};
  for (const auto& p : parts) {
    all.mass += p.mass;
    all.centre += p.mass * p.centre;
  }
  all.centre = (1.0 / all.mass) * all.centre;
  return all;
}

} // namespace hangtrue::door
