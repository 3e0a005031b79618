// SPDX-License-Identifier: GPL-3.0-or-later
#include "solver/strength/strength_formulas.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>

namespace hangtrue::strength
{

namespace
{

constexpr double pi = std::numbers::pi;

double section_modulus(double diameter)
{
  return pi * diameter * diameter * diameter / 32.0;
}

double area(double diameter)
{
  return 0.25 * pi * diameter * diameter;
}

// The sweep ends a web a twentieth of a radius below its barrel.
double neck_below_axis(const door::Hinge& hinge)
{
  return 1.05 * door::outside_radius(hinge);
}

// Middle of the root of a web, or of the foot of a lug, m.
Vec3 root_of(const door::Hinge& hinge, const LeafForces& leaf)
{
  Vec3 root = leaf.foot;
  if (hinge.kind == door::HingeKind::barrels) {
    const double side = leaf.owner == door::KnuckleOwner::door ? 1.0 : -1.0;
    root.x += side * 0.5 * (hinge.leaf.thickness - hinge.leaf.width);
    root.y += hinge.leaf.thickness;
  }
  return root;
}

// Yield under a normal stress with shear, at the same place or on the safe side of it.
double von_mises(double normal, double shear)
{
  return std::sqrt(normal * normal + 3.0 * shear * shear);
}

} // namespace

double pin_bending_stress(double moment, double diameter)
{
  return moment / section_modulus(diameter);
}

double pin_shear_stress(double shear, double diameter)
{
  return shear / area(diameter);
}

double pin_combined_stress(double moment, double shear, double diameter)
{
  return von_mises(pin_bending_stress(moment, diameter), pin_shear_stress(shear, diameter));
}

double pin_shear_limit(double yield, double ultimate)
{
  return std::min(0.6 * yield / 1.67, 0.6 * ultimate / 2.0);
}

double base_metal_limit(double yield, double ultimate)
{
  return std::min(0.6 * yield / 1.5, 0.6 * ultimate / 2.0);
}

double pin_contact_stress(double youngs_modulus, double force, double pin, double bore,
                          double thickness)
{
  return 0.591 * std::sqrt(youngs_modulus * force * (bore - pin) / (pin * pin * thickness));
}

WeldLines box_weld(double width, double length)
{
  WeldLines lines;
  lines.length = 2.0 * (width + length);
  lines.about_x = length * length * length / 6.0 + 0.5 * width * length * length;
  lines.about_z = width * width * width / 6.0 + 0.5 * length * width * width;
  lines.half_x = 0.5 * width;
  lines.half_z = 0.5 * length;
  return lines;
}

WeldLines pair_weld(double width, double apart)
{
  WeldLines lines;
  lines.length = 2.0 * width;
  lines.about_x = 0.5 * width * apart * apart;
  lines.about_z = width * width * width / 6.0;
  lines.half_x = 0.5 * width;
  lines.half_z = 0.5 * apart;
  return lines;
}

double weld_throat(double leg)
{
  return leg / std::numbers::sqrt2;
}

double weld_line_force(const WeldLines& lines, const Vec3& force, const Vec3& moment)
{
  const double polar = lines.about_x + lines.about_z;
  double worst = 0.0;
  for (const double sx : {-1.0, 1.0})
    for (const double sz : {-1.0, 1.0}) {
      const double x = sx * lines.half_x;
      const double z = sz * lines.half_z;
      // Force per length of line: direct, twist in the plane of the face (about y), and bending
      // about x and z, which acts along y.
      const Vec3 line{force.x / lines.length + moment.y * z / polar,
                      force.y / lines.length - moment.x * z / lines.about_x +
                          moment.z * x / lines.about_z,
                      force.z / lines.length - moment.y * x / polar};
      worst = std::max(worst, norm(line));
    }
  return worst;
}

double weld_stress(const WeldLines& lines, double leg, const Vec3& force, const Vec3& moment)
{
  return weld_line_force(lines, force, moment) / weld_throat(leg);
}

double plate_bending_stress(double moment, double wide, double deep)
{
  return 6.0 * moment / (wide * deep * deep);
}

double bearing_web(const door::Hinge& hinge, door::KnuckleOwner owner)
{
  const double height = hinge.leaf.standoff - hinge.leaf.thickness - neck_below_axis(hinge);
  const door::Span leaf = door::hinge_span(hinge);
  double bears = 0.0;
  double covered = leaf.from;
  for (std::size_t k = 0; k < hinge.knuckles.size(); ++k) {
    if (hinge.knuckles[k].owner != owner)
      continue;
    const double start = door::knuckle_start(hinge, static_cast<int>(k));
    const double from = std::max(covered, start - height);
    const double to = std::min(leaf.to, start + hinge.knuckles[k].length + height);
    bears += std::max(0.0, to - from);
    covered = std::max(covered, to);
  }
  return bears;
}

PlateSection leaf_section(const door::Hinge& hinge, const LeafForces& leaf)
{
  PlateSection section;
  const bool barrels = hinge.kind == door::HingeKind::barrels;
  section.wide = barrels ? bearing_web(hinge, leaf.owner) : hinge.knuckles[leaf.knuckle].length;
  section.deep = barrels ? hinge.leaf.thickness : hinge.leaf.width;
  section.force = leaf.force;
  section.moment = leaf.moment + cross(leaf.foot - root_of(hinge, leaf), leaf.force);
  section.moment.z = leaf.root_bending;
  return section;
}

PlateSection neck_section(const door::Door& door, const KnuckleForce& knuckle)
{
  const door::Hinge& hinge = door.hinges[knuckle.hinge];
  const double t = hinge.leaf.thickness;
  const double angle = knuckle.owner == door::KnuckleOwner::door ? 0.0 : door.swing;
  const auto closed = [angle](const Vec3& v) {
    return Vec3{std::cos(angle) * v.x - std::sin(angle) * v.y,
                std::sin(angle) * v.x + std::cos(angle) * v.y, v.z};
  };
  PlateSection section;
  section.wide = hinge.knuckles[knuckle.knuckle].length;
  section.deep = t;
  section.force = closed(knuckle.pin_force) + Vec3{0.0, 0.0, knuckle.thrust};
  const double side = knuckle.owner == door::KnuckleOwner::door ? 1.0 : -1.0;
  // From the middle of the neck's lower end to the pin axis.
  const Vec3 arm{-side * (0.5 * door.reveal + 0.5 * t), neck_below_axis(hinge), 0.0};
  section.moment = closed(knuckle.moment) + cross(arm, section.force);
  return section;
}

double bending_stress(const PlateSection& s)
{
  return plate_bending_stress(std::abs(s.moment.z), s.wide, s.deep) +
         plate_bending_stress(std::abs(s.moment.x), s.deep, s.wide) +
         std::abs(s.force.y) / (s.wide * s.deep);
}

double twist_shear_stress(double moment, double wide, double deep)
{
  const double b = std::min(wide, deep) / std::max(wide, deep);
  const double more = 1.0 + b * (0.6095 + b * (0.8865 + b * (-1.8023 + b * 0.91)));
  return 3.0 * moment * more / (std::max(wide, deep) * std::pow(std::min(wide, deep), 2));
}

double shear_stress(const PlateSection& s)
{
  return 1.5 * std::hypot(s.force.x, s.force.z) / (s.wide * s.deep) +
         twist_shear_stress(std::abs(s.moment.y), s.wide, s.deep);
}

double combined_stress(const PlateSection& s)
{
  return von_mises(bending_stress(s), shear_stress(s));
}

double leaf_bending_stress(const door::Hinge& hinge, const LeafForces& leaf)
{
  return bending_stress(leaf_section(hinge, leaf));
}

double neck_bending_stress(const door::Door& door, const KnuckleForce& knuckle)
{
  return bending_stress(neck_section(door, knuckle));
}

} // namespace hangtrue::strength
