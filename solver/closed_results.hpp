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

/// One latch that pushes with `push`, N; `gap`, m, is what is left between it and its strike.
LatchAt latch_result(const Latch& latch, const ContactPoint& point, double push, double gap);

/// How far a door may slide along its pins from where it stands, m.
struct Slide {
  double to_lower = 0.0; ///< towards z = 0
  double to_upper = 0.0;
};

/// Along a level hinge axis a door stands anywhere between its thrust faces; an upright one rests.
Slide slide_along_pins(const Door& door, const AxialPlay& play);

/// Gaps left round a door at those of the `nodes` that lie on its edges, which moves by `moves`, m
/// per node of the body, and may slide.
RevealLeft reveal_left(const Door& door, const BodyMesh& body, const std::vector<int>& nodes,
                       const NodeField& moves, const Slide& slide = {});

/// Nodes of both skins.
std::vector<int> skin_nodes(const BodyMesh& body);

} // namespace hangtrue
