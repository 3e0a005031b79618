// SPDX-License-Identifier: GPL-3.0-or-later
#include "solver/error/load_offset.hpp"

#include "solver/contact/contact_pairs.hpp"
#include "solver/elasticity/nodal_loads.hpp"
#include "solver/system/door_system.hpp"

#include <algorithm>

namespace hangtrue::error
{

namespace
{

// A couple e_z x `force` of one metre, N m per m, as nodal forces per metre, N/m, laid out like the
// weight, which is everywhere.
elasticity::NodeField couple_per_metre(const Vec3& down, const mesh::BodyMesh& body,
                                       const elasticity::NodeField& weight, const Vec3& force)
{
  double whole = 0.0;
  double first = 0.0;
  double second = 0.0;
  for (std::size_t n = 0; n < weight.size(); ++n) {
    const double w = dot(down, weight[n]);
    const double z = body.nodes[n].z;
    whole += w;
    first += w * z;
    second += w * z * z;
  }
  const double centre = first / whole;
  const double spread = second - centre * first;
  elasticity::NodeField added(weight.size());
  for (std::size_t n = 0; n < weight.size(); ++n)
    added[n] = (dot(down, weight[n]) * (body.nodes[n].z - centre) / spread) * force;
  return added;
}

elasticity::NodeField times(double factor, elasticity::NodeField field)
{
  for (Vec3& v : field)
    v = factor * v;
  return field;
}

} // namespace

double load_offset(const door::Door& door)
{
  constexpr double share = 0.01;
  double longest = 0.0;
  for (const auto& hinge : door.hinges)
    for (const auto& knuckle : hinge.knuckles)
      longest = std::max(longest, knuckle.length);
  return share * longest;
}

LoadChanges offset_load_changes(const door::Door& door, const mesh::Mesh& mesh,
                                const system::DoorSystem& system, double offset)
{
  const Vec3 down = elasticity::gravity_direction(door);
  const contact::BodyResponse& body = system.bodies[contact::door_body];
  const elasticity::NodeField& weight = system.weight[contact::door_body];
  // Both ways of the couple of that force.
  const auto couples = [&](const Vec3& force) {
    const elasticity::NodeField load = couple_per_metre(down, mesh.door, weight, force);
    const elasticity::NodeField displacement = body.elastic->solve(load);
    return std::array{LoadChange{times(-offset, load), times(-offset, displacement)},
                      LoadChange{times(offset, load), times(offset, displacement)}};
  };
  Vec3 resultant;
  for (const Vec3& f : body.load)
    resultant += f;
  // e_z x (down x e_z) = down for a level axis.
  const Vec3 across = norm(resultant) * cross(down, Vec3{0.0, 0.0, 1.0});
  return {couples(resultant), couples(across)};
}

void add(const elasticity::NodeField& more, elasticity::NodeField& to)
{
  for (std::size_t n = 0; n < to.size(); ++n)
    to[n] += more[n];
}

} // namespace hangtrue::error
