// SPDX-License-Identifier: GPL-3.0-or-later
// The part of the section that is a hinge half or a pin, as a planar drawing.
#pragma once

#include "meshing/door/door.hpp"
#include "meshing/door/mesh_density.hpp"
#include "meshing/section/grid_planes.hpp"
#include "meshing/section/quad9_mesh.hpp"
#include "meshing/section/section_types.hpp"

#include <vector>

namespace hangtrue::section
{

/// The web of a leaf ends, and its neck begins, at this fraction of the barrel's radius from the
/// axis.
constexpr double neck_share = 1.05;

/// One half of a hinge in the section. `side` is +1 for the door half (foot towards +x from the
/// hinge edge at `edge`) and -1 for the frame half (foot towards -x from the jamb's edge).
struct HalfPlace {
  int hinge = 0;
  double side = 1.0;
  double edge = 0.0; ///< m, x of the edge that the foot starts from
  GridLines foot;    ///< m, cell boundaries of the foot, from the edge to its end as snapped
};

/// Draws foot, web, neck (or lug) and ring of one half; with `filled` the ring is closed by the pin
/// that is clamped in it. Patches are appended to `section`, shapes to `drawing`. Returns the
/// points of the foot on the face, from the edge outwards.
std::vector<int> draw_half(const door::Door& door, const HalfPlace& place,
                           const door::MeshDensity& fine, bool filled, Section& section,
                           PlaneDrawing& drawing);

/// Draws the disc of a floating pin, with the same angles as the door half's bore.
void draw_pin(const door::Door& door, const HalfPlace& place, const door::MeshDensity& fine,
              Section& section, PlaneDrawing& drawing);

} // namespace hangtrue::section
