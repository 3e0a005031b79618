// SPDX-License-Identifier: GPL-3.0-or-later
// Contact pairs of gasket, latches and stops with a closed door.
#pragma once

#include "meshing/door/door.hpp"
#include "meshing/mesh/mesh.hpp"
#include "solver/contact/contact_pairs.hpp"
#include "solver/contact/gasket_model.hpp"
#include "solver/elasticity/elastic_body.hpp"

#include <cstddef>
#include <vector>

namespace hangtrue::contact
{

/// A gap, m, that no door closes: it takes a pair out of the contact, like a latch that is not
/// there.
constexpr double inactive_gap = 1.0;

/// How far the chamber face is set back from its middle at a point, m.
double face_setback(const door::Door& door, const Vec3& place);

/// Indices among contact pairs, in this order.
struct ClosedPairOffsets {
  std::size_t first_gasket = 0;
  std::size_t first_latch = 0;
  std::size_t first_stop = 0;
};

/// Adds the lengths of gasket, the latches (open, with their compliance) and the stops to `points`;
/// gaps of gasket and stops are left to the caller.
ClosedPairOffsets add_closed_pairs(const door::Door& door, const mesh::BodyMesh& body,
                                   const std::vector<GasketSegment>& gasket,
                                   const std::vector<door::Latch>& latches,
                                   std::vector<ContactPair>& pairs);

/// The gasket's line of a closed door, in lengths.
std::vector<GasketSegment> closed_gasket_line(const door::Door& door);

/// Fraction of an edge from its ends at which two latches leave a uniform bow as far out at the
/// ends as in the middle (geometry of a parabola; common practice, no source).
constexpr double balanced_latch_fraction = 0.146;

/// Where a latch is or might be put: the door's own, two that divide the latch edge equally, one in
/// the middle of every free edge.
std::vector<door::Latch> candidate_latches(const door::Door& door);

/// Unknowns of the door where contact forces may act besides its hinges, open (a loose skin) or
/// closed, and corners and quarter points of its edges in their plane.
std::vector<elasticity::FixedDof> retained_dofs(const door::Door& door, const mesh::BodyMesh& body);

/// Nodes of both skins at corners and quarter points of the door's edges.
std::vector<int> edge_nodes(const door::Door& door, const mesh::BodyMesh& body);

} // namespace hangtrue::contact
