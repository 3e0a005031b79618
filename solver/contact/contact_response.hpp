// SPDX-License-Identifier: GPL-3.0-or-later
// Bodies under contact forces: the nodal forces of the pairs, and the displacements they cause.
#pragma once

#include "meshing/mesh/mesh.hpp"
#include "solver/contact/contact_pairs.hpp"
#include "solver/elasticity/elastic_body.hpp"
#include "solver/substructuring/substructured_body.hpp"

#include <optional>
#include <vector>

namespace hangtrue::contact
{

/// A rigid displacement of one body per unit amplitude: translation + rotation x (point - about).
struct RigidMode {
  int body = 0;
  Vec3 translation; ///< m per m
  Vec3 rotation;    ///< rad per m
  Vec3 about;       ///< m
};

/// Displacement of a point, m per m of amplitude.
Vec3 rigid_displacement(const RigidMode& mode, const Vec3& place);

/// One body of the system: mesh, factorized stiffness, and its response to its own loads.
struct BodyResponse {
  const mesh::BodyMesh* mesh = nullptr;
  const substructuring::SubstructuredBody* elastic = nullptr;
  elasticity::NodeField load; ///< N
  elasticity::NodeField
      load_displacement; ///< m, under the load with the body fixed (isostatically, if it is free);
                         ///< valid at the nodes of contact pairs at least
  elasticity::NodeField thermal_load;         ///< N, of the free strain; empty without heat
  elasticity::NodeField thermal_displacement; ///< m, under it alone, as good
  std::vector<double> free_strain;            ///< m/m, per node, that `heat` comes from
  std::optional<fe::Discretization> space;    ///< for quantities of interest; contact needs none
};

/// The contact solution: forces at all pairs, and amplitudes of all rigid modes.
struct ContactState {
  std::vector<double> contact_force; ///< N, per contact point
  std::vector<double> amplitude;     ///< m, per rigid mode
  std::vector<int> active_set;       ///< contact points that carry
  double min_gap = 0.0;              ///< m, over all points (0 or the deepest penetration)
  double min_contact_force = 0.0;    ///< N
  int rounds = 0;
  int columns = 0; ///< flexibility columns that were computed
};

/// What acts besides the contact forces.
struct ExternalActions {
  bool load = true;
  bool heat = true;
};

/// Change of the gap of a pair, m, under displacements of the nodes of the bodies that count.
template <typename Counts, typename MoveOf>
double gap_change_where(const ContactPair& pair, const Counts& counts, const MoveOf& move_of)
{
  double open = 0.0;
  auto add = [&](const ContactSide& side, double sign) {
    if (counts(side.body))
      for (const auto& w : side.nodes)
        open += sign * w.weight * dot(pair.normal, move_of(side.body, w.node));
  };
  add(pair.outer, 1.0);
  add(pair.inner, -1.0);
  return open;
}

/// Change of the gap of a pair, m, under displacements `move_of(node)` of one body.
template <typename MoveOf>
double gap_change(const ContactPair& pair, int body, const MoveOf& move_of)
{
  return gap_change_where(
      pair, [body](int side) { return side == body; },
      [&](int, int node) { return move_of(node); });
}

/// Change of the gap of a pair, m, under displacements of all bodies, m per node.
double gap_change(const ContactPair& pair, const std::vector<elasticity::NodeField>& displacements);

/// Nodal forces, N, on one body of a unit contact force, 1 N, at a pair.
std::vector<elasticity::NodeForce> unit_contact_force(const ContactPair& pair, int body);

/// Nodes of one body that its contact pairs involve.
std::vector<int> contact_nodes(const std::vector<ContactPair>& pairs, int body);

/// Nodal forces, N, of the contact forces on one body.
elasticity::NodeField contact_nodal_forces(const std::vector<ContactPair>& pairs,
                                           const std::vector<double>& contact_force, int body,
                                           std::size_t nodes);

/// Displacement of all nodes of one body, m, under nodal forces, N, including its rigid modes,
/// whose amplitudes are in m.
elasticity::NodeField displacements_under(const BodyResponse& body, int index,
                                          const std::vector<RigidMode>& modes,
                                          const std::vector<double>& amplitude,
                                          const elasticity::NodeField& forces);

/// Displacement of all nodes of one body, m: external loads, contact forces and rigid amplitudes.
elasticity::NodeField body_displacements(const BodyResponse& body, int index,
                                         const std::vector<RigidMode>& modes,
                                         const std::vector<ContactPair>& pairs,
                                         const ContactState& state, const ExternalActions& acting);

/// The same at the retained unknowns of the body alone, under all that acts and without another
/// solution of its base; other nodes have the rigid displacement only.
elasticity::NodeField retained_displacements(const BodyResponse& body, int index,
                                             const std::vector<RigidMode>& modes,
                                             const std::vector<ContactPair>& pairs,
                                             const ContactState& state);

} // namespace hangtrue::contact
