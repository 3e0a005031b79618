// Answers as linear measures of the door's movement: nodal forces whose work is the answer.
#pragma once

#include "meshing/door/door.hpp"
#include "meshing/mesh/mesh.hpp"
#include "solver/elasticity/elastic_body.hpp"

namespace hangtrue
{

/// The door's node that is nearest to a place, m.
int nearest_node(const BodyMesh& body, const Vec3& place);

/// Forces, N per N, on the door whose work is the drop of a latch corner (0 lower, 1 upper) once
/// the free swing is put back so that the latch edge stands at its angle.
NodeField drop_measure(const Door& door, const Mesh& mesh, std::size_t corner);

/// Forces whose work is how far the middle of the outer skin stands outwards of its corners, as
/// BowReadings::outer_corners, the free swing put back likewise.
NodeField bow_measure(const Door& door, const Mesh& mesh);

} // namespace hangtrue
