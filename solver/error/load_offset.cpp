// SPDX-License-Identifier: GPL-3.0-or-later
#include "solver/error/load_offset_check.hpp"

#include "solver/contact/contact_response.hpp"
#include "solver/contact/contact_solver.hpp"
#include "solver/elasticity/nodal_loads.hpp"
#include "solver/qoi/corner_displacements.hpp"
#include "solver/system/door_system.hpp"

#include <algorithm>

namespace hangtrue::error
{

namespace
{

// A hundredth of the longest knuckle, m.
double load_offset(const door::Door& door)
{
  constexpr double share = 0.01;
  double longest = 0.0;
  for (const auto& hinge : door.hinges)
    for (const auto& knuckle : hinge.knuckles)
      longest = std::max(longest, knuckle.length);
  return share * longest;
}

// What moving all loads of the door by one metre along z adds to the nodes, N/m: a couple, laid out
// like the weight, which is everywhere.
elasticity::NodeField per_metre(const Vec3& down, const mesh::BodyMesh& body,
                                const elasticity::NodeField& weight,
                                const elasticity::NodeField& load)
{
  Vec3 force;
  double whole = 0.0;
  double first = 0.0;
  double second = 0.0;
  for (std::size_t n = 0; n < weight.size(); ++n) {
    const double w = dot(down, weight[n]);
    const double z = body.nodes[n].z;
    force += load[n];
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

void add(double times, const elasticity::NodeField& more, elasticity::NodeField& to)
{
  for (std::size_t n = 0; n < to.size(); ++n)
    to[n] += times * more[n];
}

} // namespace

LoadOffsetResult check_load_offset(const door::Door& door, const mesh::Mesh& mesh,
                                   const system::DoorSystem& system,
                                   const std::vector<contact::ActiveContact>& warm_start)
{
  const elasticity::NodeField load =
      per_metre(elasticity::gravity_direction(door), mesh.door, system.weight[contact::door_body],
                system.bodies[contact::door_body].load);
  const elasticity::NodeField load_displacement =
      system.bodies[contact::door_body].elastic->solve(load);
  std::vector<contact::ContactPair> at_nodes = system.pairs;
  std::erase_if(at_nodes, contact::is_intermediate);
  const auto with_offset = [&](double shift) {
    std::vector<contact::BodyResponse> bodies = system.bodies;
    add(shift, load, bodies[contact::door_body].load);
    add(shift, load_displacement, bodies[contact::door_body].load_displacement);
    std::vector<contact::ContactPair> pairs = at_nodes;
    contact::ContactSolver solver(bodies, system.modes, pairs, warm_start);
    solver.follow_circles(pairs);
    const contact::ContactState state = solver.solve([](int, int) {}).state;
    elasticity::NodeField displacements = contact::body_displacements(
        bodies[contact::door_body], contact::door_body, system.modes, pairs, state, {});
    qoi::remove_free_swing(door, mesh, displacements);
    const auto corners = qoi::corner_displacements(door, mesh, displacements);
    return TippedState{qoi::greatest_drop(door, corners), qoi::lean_of(corners)};
  };
  const double offset = load_offset(door);
  return {offset, {with_offset(-offset), with_offset(offset)}};
}

} // namespace hangtrue::error
