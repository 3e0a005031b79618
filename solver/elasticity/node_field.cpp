// SPDX-License-Identifier: GPL-3.0-or-later
#include "solver/elasticity/node_field.hpp"

#include <algorithm>

namespace hangtrue::elasticity
{

bool same_field(const NodeField& a, const NodeField& b)
{
  return std::equal(a.begin(), a.end(), b.begin(), b.end(), [](const Vec3& x, const Vec3& y) {
    return x.x == y.x && x.y == y.y && x.z == y.z;
  });
}

} // namespace hangtrue::elasticity
