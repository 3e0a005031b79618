// What the solved closed door comes to: the whole gasket, one latch, the gaps round the door.
#pragma once

#include "meshing/door.hpp"
#include "meshing/mesh.hpp"
#include "solver/closed_door.hpp"
#include "solver/contact_points.hpp"

#include <vector>

namespace hangtrue
{

/// Sums along the line, its extremes, and what is missing to seal; `line` is not empty.
GasketSum gasket_sum(const Gasket& gasket, const std::vector<GasketAt>& line);

/// One latch that pushes with `push`, N, on a door that moves by `moves`, m per node.
LatchAt latch_result(const Latch& latch, const ContactPoint& point, double push,
                     const NodeField& moves);

/// Gaps left round a door that moves by `moves`, m per node.
RevealLeft reveal_left(const Door& door, const BodyMesh& body, const NodeField& moves);

} // namespace hangtrue
