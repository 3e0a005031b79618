// SPDX-License-Identifier: GPL-3.0-or-later
#include "solver/contact/contact_response.hpp"

#include <algorithm>

namespace hangtrue::contact
{

Vec3 rigid_displacement(const RigidMode& mode, const Vec3& place)
{
  return mode.translation + cross(mode.rotation, place - mode.about);
}

double gap_change(const ContactPair& pair, const std::vector<elasticity::NodeField>& displacements)
{
  return gap_change_where(
      pair, [](int side) { return side != ground; },
      [&](int side, int node) { return displacements[side][node]; });
}

std::vector<elasticity::NodeForce> unit_contact_force(const ContactPair& pair, int body)
{
  std::vector<elasticity::NodeForce> forces;
  auto add = [&](const ContactSide& side, double sign) {
    if (side.body == body)
      for (const auto& w : side.nodes)
        forces.push_back({w.node, sign * w.weight * pair.normal});
  };
  add(pair.outer, 1.0);
  add(pair.inner, -1.0);
  return forces;
}

std::vector<int> contact_nodes(const std::vector<ContactPair>& pairs, int body)
{
  std::vector<int> nodes;
  for (const auto& pair : pairs)
    for (const auto* side : {&pair.outer, &pair.inner})
      if (side->body == body)
        for (const auto& w : side->nodes)
          nodes.push_back(w.node);
  std::sort(nodes.begin(), nodes.end());
  nodes.erase(std::unique(nodes.begin(), nodes.end()), nodes.end());
  return nodes;
}

elasticity::NodeField contact_nodal_forces(const std::vector<ContactPair>& pairs,
                                           const std::vector<double>& contact_force, int body,
                                           std::size_t nodes)
{
  elasticity::NodeField forces(nodes);
  for (std::size_t p = 0; p < pairs.size(); ++p)
    if (contact_force[p] != 0.0)
      for (const auto& f : unit_contact_force(pairs[p], body))
        forces[f.node] += contact_force[p] * f.force;
  return forces;
}

namespace
{

void add_rigid(const BodyResponse& body, int index, const std::vector<RigidMode>& modes,
               const std::vector<double>& amplitude, elasticity::NodeField& displacements)
{
  for (std::size_t m = 0; m < modes.size(); ++m)
    if (modes[m].body == index)
      for (std::size_t n = 0; n < displacements.size(); ++n)
        displacements[n] += amplitude[m] * rigid_displacement(modes[m], body.mesh->nodes[n]);
}

} // namespace

elasticity::NodeField displacements_under(const BodyResponse& body, int index,
                                          const std::vector<RigidMode>& modes,
                                          const std::vector<double>& amplitude,
                                          const elasticity::NodeField& forces)
{
  elasticity::NodeField displacements = body.elastic->solve(forces);
  add_rigid(body, index, modes, amplitude, displacements);
  return displacements;
}

elasticity::NodeField body_displacements(const BodyResponse& body, int index,
                                         const std::vector<RigidMode>& modes,
                                         const std::vector<ContactPair>& pairs,
                                         const ContactState& state, const ExternalActions& acting)
{
  const std::size_t nodes = body.mesh->nodes.size();
  elasticity::NodeField forces = contact_nodal_forces(pairs, state.contact_force, index, nodes);
  for (std::size_t n = 0; n < nodes; ++n) {
    if (acting.load)
      forces[n] += body.load[n];
    if (acting.heat && !body.thermal_load.empty())
      forces[n] += body.thermal_load[n];
  }
  return displacements_under(body, index, modes, state.amplitude, forces);
}

elasticity::NodeField retained_displacements(const BodyResponse& body, int index,
                                             const std::vector<RigidMode>& modes,
                                             const std::vector<ContactPair>& pairs,
                                             const ContactState& state)
{
  const std::size_t nodes = body.mesh->nodes.size();
  elasticity::NodeField displacements =
      body.elastic->solve_retained(contact_nodal_forces(pairs, state.contact_force, index, nodes));
  for (std::size_t n = 0; n < nodes; ++n) {
    displacements[n] += body.load_displacement[n];
    if (!body.thermal_displacement.empty())
      displacements[n] += body.thermal_displacement[n];
  }
  add_rigid(body, index, modes, state.amplitude, displacements);
  return displacements;
}

} // namespace hangtrue::contact
