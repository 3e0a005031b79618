// What the solved closed door comes to: the whole gasket, one latch, the gaps round the door.
#pragma once

#include "meshing/door/door.hpp"
#include "meshing/mesh/mesh.hpp"
#include "solver/analysis/closed_analysis.hpp"
#include "solver/contact/contact_pairs.hpp"

#include <vector>

namespace hangtrue
{

/// Sums along the line, its extremes, and what is missing to seal; `line` is not empty.
GasketSum gasket_sum(const Gasket& gasket, const std::vector<GasketAt>& line);

/// One latch that pushes with `push`, N; `gap`, m, is what is left between it and its strike.
LatchAt latch_result(const Latch& latch, const ContactPoint& point, double push, double gap);

/// Gaps left round a door at those of the `nodes` that lie on its edges, which moves by `moves`, m
/// per node of the body.
RevealLeft reveal_left(const Door& door, const BodyMesh& body, const std::vector<int>& nodes,
                       const NodeField& moves);

/// Nodes of both skins.
std::vector<int> skin_nodes(const BodyMesh& body);

} // namespace hangtrue
