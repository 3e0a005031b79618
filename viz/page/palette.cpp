// SPDX-License-Identifier: GPL-3.0-or-later
#include "viz/page/palette.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <numbers>

namespace hangtrue::page
{

namespace
{

using Three = std::array<double, 3>;
using Matrix = std::array<Three, 3>;

Three times(const Matrix& m, const Three& v)
{
  Three r{};
  for (int i = 0; i < 3; ++i)
    r[i] = m[i][0] * v[0] + m[i][1] * v[1] + m[i][2] * v[2];
  return r;
}

// Inverse by cofactors, so that there and back is exact.
Matrix inverse(const Matrix& m)
{
  auto minor = [&](int i, int j) {
    const int a = (i + 1) % 3;
    const int b = (i + 2) % 3;
    const int c = (j + 1) % 3;
    const int d = (j + 2) % 3;
    return m[a][c] * m[b][d] - m[a][d] * m[b][c];
  };
  const double det = m[0][0] * minor(0, 0) + m[0][1] * minor(0, 1) + m[0][2] * minor(0, 2);
  Matrix r{};
  for (int i = 0; i < 3; ++i)
    for (int j = 0; j < 3; ++j)
      r[j][i] = minor(i, j) / det;
  return r;
}

// Linear sRGB to XYZ, IEC 61966-2-1 (four figures).
constexpr Matrix rgb_to_xyz{
    {{0.4124, 0.3576, 0.1805}, {0.2126, 0.7152, 0.0722}, {0.0193, 0.1192, 0.9505}}};

// M1 and M2 of Ottosson (2020).
constexpr Matrix xyz_to_cones{{{0.8189330101, 0.3618667424, -0.1288597137},
                               {0.0329845436, 0.9293118715, 0.0361456387},
                               {0.0482003018, 0.2643662691, 0.6338517070}}};
constexpr Matrix cones_to_lab{{{0.2104542553, 0.7936177850, -0.0040720468},
                               {1.9779984951, -2.4285922050, 0.4505937099},
                               {0.0259040371, 0.7827717662, -0.8086757660}}};

// Transfer of sRGB, IEC 61966-2-1.
double linear(double c)
{
  return c <= 0.04045 ? c / 12.92 : std::pow((c + 0.055) / 1.055, 2.4);
}
double encoded(double c)
{
  return c <= 0.0031308 ? 12.92 * c : 1.055 * std::pow(c, 1.0 / 2.4) - 0.055;
}

bool can_be_shown(const Colour& c)
{
  constexpr double slack = 1e-6;
  auto inside = [](double v) { return v >= -slack && v <= 1.0 + slack; };
  return inside(c.red) && inside(c.green) && inside(c.blue);
}

OklabColour polar(double lightness, double strength, double hue)
{
  const double rad = hue * std::numbers::pi / 180.0;
  return {lightness, strength * std::cos(rad), strength * std::sin(rad)};
}

double between(double from, double to, double t)
{
  return from + t * (to - from);
}

} // namespace

OklabColour oklab_from_xyz(double x, double y, double z)
{
  Three cones = times(xyz_to_cones, {x, y, z});
  for (auto& c : cones)
    c = std::cbrt(c);
  const Three lab = times(cones_to_lab, cones);
  return {lab[0], lab[1], lab[2]};
}

OklabColour to_oklab(const Colour& c)
{
  const Three xyz = times(rgb_to_xyz, {linear(c.red), linear(c.green), linear(c.blue)});
  return oklab_from_xyz(xyz[0], xyz[1], xyz[2]);
}

Colour from_oklab(const OklabColour& s)
{
  static const Matrix back_to_cones = inverse(cones_to_lab);
  static const Matrix back_to_xyz = inverse(xyz_to_cones);
  static const Matrix back_to_rgb = inverse(rgb_to_xyz);
  Three cones = times(back_to_cones, {s.lightness, s.a, s.b});
  for (auto& c : cones)
    c = c * c * c;
  const Three rgb = times(back_to_rgb, times(back_to_xyz, cones));
  return {encoded(rgb[0]), encoded(rgb[1]), encoded(rgb[2])};
}

Colour tone(double lightness, double strength, double hue)
{
  double minimum = 0.0;
  double maximum = strength;
  if (!can_be_shown(from_oklab(polar(lightness, strength, hue))))
    for (int i = 0; i < 30; ++i) {
      const double middle = 0.5 * (minimum + maximum);
      (can_be_shown(from_oklab(polar(lightness, middle, hue))) ? minimum : maximum) = middle;
    }
  else
    minimum = strength;
  Colour c = from_oklab(polar(lightness, minimum, hue));
  for (double* v : {&c.red, &c.green, &c.blue})
    *v = std::clamp(*v, 0.0, 1.0);
  return c;
}

Colour sequential(double t)
{
  const double s = std::clamp(t, 0.0, 1.0);
  // Chroma rises and falls as a parabola so that its own steps stay small beside those of
  // lightness.
  const double strength = 0.025 + 0.36 * s * (1.0 - s) + 0.03 * s;
  return tone(between(0.96, 0.30, s), strength, between(95.0, 28.0, s));
}

Colour two_sided(double t)
{
  const double s = std::min(1.0, std::abs(t));
  const double strength = 0.105 * std::sqrt(s * (2.0 - s));
  return tone(between(0.965, 0.42, s), strength, t < 0.0 ? 215.0 : 48.0);
}

Colour series_colour(int index)
{
  constexpr std::array<Three, 4> tones{
      {{0.42, 0.085, 215.0}, {0.62, 0.130, 48.0}, {0.78, 0.060, 215.0}, {0.30, 0.030, 28.0}}};
  const Three& t = tones.at(static_cast<std::size_t>(index) % tones.size());
  return tone(t[0], t[1], t[2]);
}

Colour ink()
{
  return tone(0.27, 0.02, 230.0);
}
Colour faint()
{
  return tone(0.70, 0.015, 230.0);
}
Colour loads()
{
  return tone(0.50, 0.115, 48.0);
}
Colour displaced()
{
  return tone(0.48, 0.085, 215.0);
}

std::string hex(const Colour& c)
{
  auto byte = [](double v) {
    return static_cast<int>(std::lround(255.0 * std::clamp(v, 0.0, 1.0)));
  };
  return fmt::format("#{:02x}{:02x}{:02x}", byte(c.red), byte(c.green), byte(c.blue));
}

} // namespace hangtrue::page
