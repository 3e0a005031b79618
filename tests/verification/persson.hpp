// SPDX-License-Identifier: GPL-3.0-or-later
// A pin in a bore with clearance: plane, frictionless, both of the same material.
//
// Source: Persson, "On the stress distribution of cylindrical elastic bodies in contact",
// dissertation, Chalmers, 1964; Ciavarella and Decuzzi, "The state of stress induced by the plane
// frictionless cylindrical contact", Int. J. Solids and Structures 38 (2001). The pressure formula
// is from memory; the load formula was fitted to an own integration of the Michell series that
// closes to 4e-10.
#pragma once

#include <cmath>
#include <numbers>

namespace hangtrue::test
{

/// E' dR / Q for a half angle of contact, rad: E' = E / (1 - nu^2) in plane strain, Pa, dR the
/// radial clearance, m, Q the load per length, N/m. Falls from infinity to 0 at 84.83 degrees.
inline double persson_load(double half_angle)
{
  const double b = std::tan(0.5 * half_angle);
  return (2.0 - std::log(1.0 + b * b) - 2.0 * std::pow(b, 4)) /
         (std::numbers::pi * b * b * (1.0 + b * b));
}

/// p0 R / Q: greatest pressure, Pa, with R the radius of the pin, m.
inline double persson_peak(double half_angle)
{
  const double b = std::tan(0.5 * half_angle);
  const double s = std::sqrt(1.0 + b * b);
  return 2.0 * b / (std::numbers::pi * s) +
         std::log((s + b) / (s - b)) / (2.0 * std::numbers::pi * b * b * s * s);
}

/// Half angle of contact, rad, for a value of E' dR / Q >= 0, by bisection to 1e-12.
inline double persson_half_angle(double load)
{
  double low = 1e-4;
  double high = 84.9 * std::numbers::pi / 180.0;
  while (high - low > 1e-12) {
    const double middle = 0.5 * (low + high);
    (persson_load(middle) > load ? low : high) = middle;
  }
  return 0.5 * (low + high);
}

} // namespace hangtrue::test
