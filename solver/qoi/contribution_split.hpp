// SPDX-License-Identifier: GPL-3.0-or-later
// Any linear quantity of interest of a solved door as a sum over parts and as a sum over causes.
#pragma once

#include "solver/contact/contact_solver.hpp"
#include "solver/qoi/contribution.hpp"
#include "solver/qoi/goal_functionals.hpp"
#include "solver/system/door_system.hpp"

#include <optional>
#include <vector>

namespace hangtrue::qoi
{

/// Displacements of every body, m, in the order of DoorSystem::bodies.
using BodyDisplacements = std::vector<elasticity::NodeField>;

/// A nominal size that contributes to a gap: the gap of a pair is the sum over its contributions.
struct GapContribution {
  ContributingPart part = ContributingPart::gasket;
  ContributionSource source = ContributionSource::nominal;
  double gap = 0.0;                          ///< m
  int hinge = -1;                            ///< of hinge play: which hinge
  std::optional<ContributingPart> by_part{}; ///< the contributing part where that differs by part
};

/// A contact state with the gaps and compliances that it was solved with.
struct ContactStateData {
  std::vector<contact::ContactPair> points; ///< gaps, m, and compliances, m/N, as solved
  /// Per point: what its gap consists of where that is more than play in a hinge or a loose
  /// skin; nothing elsewhere.
  std::vector<std::vector<GapContribution>> nominal;
  contact::ContactState state;
  BodyDisplacements displacements;
};

/// All that one quantity of interest of a solved door depends on.
struct QoiSolution {
  ContactStateData contact;
  contact::AdjointSolution adjoint;
  elasticity::NodeField unit_load; ///< N per N, on the door
  ContributionSplit split;
};

/// Contributions to the linear quantity `unit . displacement of the door` by the unit-load theorem
/// (virtual work; Timoshenko and Goodier, Theory of Elasticity, from memory). `unit` are nodal
/// forces, N per N, that are zero under every displacement that nothing opposes. With v the adjoint
/// solution for them on the active contacts (stress s_v, contact forces q), u the real displacement
/// (strain e, elastic plus free strain), gaps g, compliances c, contact forces p and loads f:
///
///     unit . u = sum over parts of integral of s_v : e      + sum of q (g + c p)     by part
///              = v . f + sum over parts of integral of s_v : free strain + sum of q g    by cause
///
/// The second follows from the first with equilibrium of u and closed virtual gaps; c is the
/// tangent compliance between the sides at the real contact force.
ContributionSplit split_contributions(Quantity quantity, const system::DoorSystem& system,
                                      const ContactStateData& solved,
                                      const contact::AdjointSolution& adjoint,
                                      const elasticity::NodeField& unit);

/// Adds a contribution, or to that of the same part and source.
void add_contribution(std::vector<Contribution>& all, const Contribution& one);

/// Sum of all contributions, m.
double sum(const std::vector<Contribution>& all);

} // namespace hangtrue::qoi
