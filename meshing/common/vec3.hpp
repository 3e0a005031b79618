// SPDX-License-Identifier: GPL-3.0-or-later
// A point, a displacement, a force or a moment in three components, in the door frame.
#pragma once

#include <cmath>

namespace hangtrue
{

/// Three Cartesian components in the door frame (x to the latch edge, y away from the fire, z along
/// the hinge axis); the unit is that of the quantity they describe.
struct Vec3 {
  double x = 0.0;
  double y = 0.0;
  double z = 0.0;
};

/// Sum of two vectors.
constexpr Vec3 operator+(const Vec3& a, const Vec3& b)
{
  return {a.x + b.x, a.y + b.y, a.z + b.z};
}
/// Difference of two vectors.
constexpr Vec3 operator-(const Vec3& a, const Vec3& b)
{
  return {a.x - b.x, a.y - b.y, a.z - b.z};
}
/// The opposite vector.
constexpr Vec3 operator-(const Vec3& a)
{
  return {-a.x, -a.y, -a.z};
}
/// A vector times a number.
constexpr Vec3 operator*(double s, const Vec3& a)
{
  return {s * a.x, s * a.y, s * a.z};
}
/// Adds a vector in place.
constexpr Vec3& operator+=(Vec3& a, const Vec3& b)
{
  a = a + b;
  return a;
}
/// Scalar product.
constexpr double dot(const Vec3& a, const Vec3& b)
{
  return a.x * b.x + a.y * b.y + a.z * b.z;
}
/// Vector product.
constexpr Vec3 cross(const Vec3& a, const Vec3& b)
{
  return {a.y * b.z - a.z * b.y, a.z * b.x - a.x * b.z, a.x * b.y - a.y * b.x};
}
/// Euclidean length.
inline double norm(const Vec3& a)
{
  return std::sqrt(dot(a, a));
}

} // namespace hangtrue
