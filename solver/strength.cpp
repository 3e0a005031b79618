#include "solver/strength.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>

namespace hangtrue
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

// The loft ends a web a twentieth of a radius below its barrel.
double neck_below_axis(const Hinge& hinge)
{
  return 1.05 * outside_radius(hinge);
}

// A plate `deep` across the hinge axis and `wide` along it, pulled along its height.
double plate_stress(double about_axis, double across, double pull, double wide, double deep)
{
  return plate_bending_stress(std::abs(about_axis), wide, deep) +
         plate_bending_stress(std::abs(across), deep, wide) + std::abs(pull) / (wide * deep);
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

double pin_combined_use(double moment, double shear, double diameter, double yield, double ultimate)
{
  constexpr double gamma_m0 = 1.0;
  constexpr double gamma_m2 = 1.25;
  const double m = moment / (1.5 * section_modulus(diameter) * yield / gamma_m0);
  const double v = shear / (0.6 * area(diameter) * ultimate / gamma_m2);
  return m * m + v * v;
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

double weld_stress(const WeldLines& lines, double leg, const Vec3& force, const Vec3& moment)
{
  const double polar = lines.about_x + lines.about_z;
  double worst = 0.0;
  for (const double sx : {-1.0, 1.0})
    for (const double sz : {-1.0, 1.0}) {
      const double x = sx * lines.half_x;
      const double z = sz * lines.half_z;
      // Force per length of line: direct, twist in the plane of the face (about y), and bending
      // about x and z, which presses and pulls along y.
      const Vec3 line{force.x / lines.length + moment.y * z / polar,
                      force.y / lines.length - moment.x * z / lines.about_x +
                          moment.z * x / lines.about_z,
                      force.z / lines.length - moment.y * x / polar};
      worst = std::max(worst, norm(line));
    }
  return worst / (leg / std::numbers::sqrt2);
}

double plate_bending_stress(double moment, double wide, double deep)
{
  return 6.0 * moment / (wide * deep * deep);
}

double bearing_web(const Hinge& hinge, Owner owner)
{
  const double height = hinge.leaf.standoff - hinge.leaf.thickness - neck_below_axis(hinge);
  const Span leaf = hinge_span(hinge);
  double bears = 0.0;
  double covered = leaf.from;
  for (std::size_t k = 0; k < hinge.knuckles.size(); ++k) {
    if (hinge.knuckles[k].owner != owner)
      continue;
    const double start = knuckle_start(hinge, static_cast<int>(k));
    const double from = std::max(covered, start - height);
    const double to = std::min(leaf.to, start + hinge.knuckles[k].length + height);
    bears += std::max(0.0, to - from);
    covered = std::max(covered, to);
  }
  return bears;
}

double leaf_bending_stress(const Hinge& hinge, const LeafForces& leaf)
{
  if (hinge.kind == HingeKind::barrels)
    return plate_stress(leaf.root_bending, leaf.moment.x, leaf.force.y,
                        bearing_web(hinge, leaf.owner), hinge.leaf.thickness);
  return plate_stress(leaf.root_bending, leaf.moment.x, leaf.force.y,
                      hinge.knuckles[leaf.knuckle].length, hinge.leaf.width);
}

double neck_bending_stress(const Door& door, const KnuckleForce& knuckle)
{
  const Hinge& hinge = door.hinges[knuckle.hinge];
  const double t = hinge.leaf.thickness;
  const double angle = knuckle.owner == Owner::door ? 0.0 : door.swing;
  const auto shut = [angle](const Vec3& v) {
    return Vec3{std::cos(angle) * v.x - std::sin(angle) * v.y,
                std::sin(angle) * v.x + std::cos(angle) * v.y, v.z};
  };
  const Vec3 force = shut(knuckle.pin_force) + Vec3{0.0, 0.0, knuckle.thrust};
  const double side = knuckle.owner == Owner::door ? 1.0 : -1.0;
  // From the middle of the neck's lower end to the pin axis.
  const Vec3 arm{-side * (0.5 * door.reveal + 0.5 * t), neck_below_axis(hinge), 0.0};
  const Vec3 moment = shut(knuckle.moment) + cross(arm, force);
  return plate_stress(moment.z, moment.x, force.y, hinge.knuckles[knuckle.knuckle].length, t);
}

} // namespace hangtrue
