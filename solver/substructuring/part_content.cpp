#include "solver/substructuring/part_content.hpp"

#include <algorithm>
#include <cmath>

namespace hangtrue
{

namespace
{

// No size that a shop works to lies half-way between two places of this grid.
constexpr double grid = 1.4142135623730951e-11; // m

Vec3 on_grid(const Vec3& v)
{
  return {grid * std::round(v.x / grid), grid * std::round(v.y / grid),
          grid * std::round(v.z / grid)};
}

bool same_place(const Vec3& a, const Vec3& b)
{
  return a.x == b.x && a.y == b.y && a.z == b.z;
}

bool same_unknown(const HeldUnknown& x, const HeldUnknown& y)
{
  return x.node == y.node && x.component == y.component;
}

bool same_seats(const PartContent& a, const PartContent& b)
{
  return std::equal(a.seats.begin(), a.seats.end(), b.seats.begin(), b.seats.end(), same_unknown);
}

} // namespace

bool same_content(const PartContent& a, const PartContent& b)
{
  auto same_steel = [](const Elasticity& x, const Elasticity& y) {
    return x.lambda == y.lambda && x.mu == y.mu;
  };
  return a.piece == b.piece && a.cells.size() == b.cells.size() && same_place(a.axis, b.axis) &&
         a.joint == b.joint && same_field(a.nodes, b.nodes) && a.cells == b.cells &&
         std::equal(a.elasticity.begin(), a.elasticity.end(), b.elasticity.begin(),
                    b.elasticity.end(), same_steel) &&
         std::equal(a.held.begin(), a.held.end(), b.held.begin(), b.held.end(), same_unknown) &&
         same_seats(a, b);
}

bool same_pattern(const PartContent& a, const PartContent& b)
{
  return a.piece == b.piece && a.joint == b.joint && a.cells == b.cells && same_seats(a, b);
}

PartContent on_grid(PartContent content)
{
  for (Vec3& place : content.nodes)
    place = on_grid(place);
  content.axis = on_grid(content.axis);
  return content;
}

} // namespace hangtrue
