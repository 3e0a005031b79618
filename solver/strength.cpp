#include "solver/strength.hpp"

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

} // namespace hangtrue
