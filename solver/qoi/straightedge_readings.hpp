// What a straightedge on the skins reads.
#pragma once

#include "meshing/door/door.hpp"
#include "meshing/mesh/mesh.hpp"
#include "solver/analysis/open_result.hpp"
#include "solver/contact/contact_pairs.hpp"

#include <vector>

namespace hangtrue
{

/// Readings from the movements, m, of the door's nodes; rigid movements do not show in them.
BowReadings bow_readings(const Door& door, const BodyMesh& body, const std::vector<Vec3>& moves);

/// The nodes, and the weights of their outward movements, that make BowReadings::outer_corners.
std::vector<WeightedNode> middle_against_corners(const Door& door, const BodyMesh& body);

} // namespace hangtrue
