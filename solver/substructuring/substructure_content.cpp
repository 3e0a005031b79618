// SPDX-License-Identifier: GPL-3.0-or-later
#include "solver/substructuring/substructure_content.hpp"

#include <algorithm>
#include <cmath>

namespace hangtrue::substructuring
{

namespace
{

// No size that a shop works to lies half-way between two places of this grid.
constexpr double grid = 1.4142135623730951e-11; // m

Vec3 rounded_to_grid(const Vec3& v)
{
  return {grid * std::round(v.x / grid), grid * std::round(v.y / grid),
          grid * std::round(v.z / grid)};
}

bool same_place(const Vec3& a, const Vec3& b)
{
  return a.x == b.x && a.y == b.y && a.z == b.z;
}

bool same_unknown(const elasticity::FixedDof& x, const elasticity::FixedDof& y)
{
  return x.node == y.node && x.component == y.component;
}

bool same_retained(const SubstructureContent& a, const SubstructureContent& b)
{
  return std::equal(a.retained.begin(), a.retained.end(), b.retained.begin(), b.retained.end(),
                    same_unknown);
}

} // namespace

mesh::BodyMesh body_of(const SubstructureContent& content)
{
  mesh::BodyMesh mesh;
  mesh.nodes = content.nodes;
  mesh.cells.resize(content.cells.size());
  for (std::size_t c = 0; c < content.cells.size(); ++c) {
    mesh.cells[c].node = content.cells[c];
    mesh.cells[c].part = mesh::Part::ring; // some steel
  }
  return mesh;
}

bool same_content(const SubstructureContent& a, const SubstructureContent& b)
{
  auto same_steel = [](const elasticity::Elasticity& x, const elasticity::Elasticity& y) {
    return x.lambda == y.lambda && x.mu == y.mu;
  };
  return a.is_hinge_substructure == b.is_hinge_substructure && a.cells.size() == b.cells.size() &&
         same_place(a.axis, b.axis) && a.interface == b.interface &&
         elasticity::same_field(a.nodes, b.nodes) && a.cells == b.cells && a.groups == b.groups &&
         std::equal(a.elasticity.begin(), a.elasticity.end(), b.elasticity.begin(),
                    b.elasticity.end(), same_steel) &&
         std::equal(a.fixed_dofs.begin(), a.fixed_dofs.end(), b.fixed_dofs.begin(),
                    b.fixed_dofs.end(), same_unknown) &&
         same_retained(a, b);
}

bool same_pattern(const SubstructureContent& a, const SubstructureContent& b)
{
  return a.is_hinge_substructure == b.is_hinge_substructure && a.interface == b.interface &&
         a.cells == b.cells && same_retained(a, b);
}

SubstructureContent rounded_to_grid(SubstructureContent content)
{
  for (Vec3& place : content.nodes)
    place = rounded_to_grid(place);
  content.axis = rounded_to_grid(content.axis);
  return content;
}

} // namespace hangtrue::substructuring
