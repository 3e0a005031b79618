// Contact pairs of gasket, latches and stops with a closed door.
#pragma once

#include "meshing/door/door.hpp"
#include "meshing/mesh/mesh.hpp"
#include "solver/contact/contact_pairs.hpp"
#include "solver/contact/gasket_model.hpp"
#include "solver/elasticity/elastic_body.hpp"

#include <cstddef>
#include <vector>

namespace hangtrue
{

/// A gap, m, that no door closes: it takes a pair out of the contact, like a latch that is not
/// there.
constexpr double inactive_gap = 1.0;

/// How far the chamber face is set back from its middle at a point, m.
double stands_back(const Door& door, const Vec3& place);

/// Indices among contact pairs, in this order.
struct ShutPoints {
  std::size_t first_gasket = 0;
  std::size_t first_latch = 0;
  std::size_t first_stop = 0;
};

/// Adds the lengths of gasket, the latches (open, with their compliance) and the stops to `points`;
/// gaps of gasket and stops are left to the caller.
ShutPoints add_shut_points(const Door& door, const BodyMesh& body,
                           const std::vector<GasketPiece>& gasket,
                           const std::vector<Latch>& latches, std::vector<ContactPoint>& points);

/// The gasket's line of a closed door, in lengths.
std::vector<GasketPiece> shut_line(const Door& door);

/// Fraction of an edge from its ends at which two latches leave a uniform bow as far out at the
/// ends as in the middle (geometry of a parabola; common practice, no source).
constexpr double even_split = 0.146;

/// Where a latch is or might be put: the door's own, two that divide the latch edge equally, one in
/// the middle of every free edge.
std::vector<Latch> foreseen_latches(const Door& door);

/// Unknowns of the door where contact forces may act besides its hinges, open (a loose skin) or
/// closed, and corners and quarter points of its edges in their plane.
std::vector<HeldUnknown> seats_of(const Door& door, const BodyMesh& body);

/// Nodes of both skins at corners and quarter points of the door's edges.
std::vector<int> edge_nodes(const Door& door, const BodyMesh& body);

} // namespace hangtrue
