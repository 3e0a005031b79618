// What a straightedge on the skins reads.
#pragma once

#include "meshing/door.hpp"
#include "meshing/mesh.hpp"
#include "solver/deflection.hpp"

#include <vector>

namespace hangtrue
{

/// Readings from the movements, m, of the door's nodes; rigid movements do not show in them.
BowReadings bow_readings(const Door& door, const BodyMesh& body, const std::vector<Vec3>& moves);

} // namespace hangtrue
