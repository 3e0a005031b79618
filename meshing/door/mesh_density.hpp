// SPDX-License-Identifier: GPL-3.0-or-later
// Mesh density: greatest cell sizes and least cell counts, by refinement level.
#pragma once

#include "meshing/door/door.hpp"

#include <vector>

namespace hangtrue::door
{

/// Mesh density; level 1 is the coarsest that still resolves every part.
struct MeshDensity {
  double panel_cell = 0.0; ///< m, greatest cell in the plane of the panel
  /// m, `panel_cell` of the next finer mesh of a comparison: a space between grid lines that has
  /// several cells there has fewer here. Zero: of no concern.
  double finer_panel_cell = 0.0;
  double hinge_cell = 0.0; ///< m, greatest cell along the axis inside a hinge, and in a leaf
  int along_knuckle = 1;   ///< cells along every knuckle and lug, at least; three have short ends
  int across_rim = 1;      ///< cells across the rim between its walls, at least
  int around_pin = 24;     ///< cells round the pin
  int through_cavity = 1;  ///< cells of rim webs and stiffeners from skin to skin
  int through_wall = 1;    ///< cells through every skin and wall, at least
  int through_ring =
      1; ///< cells from bore to outside of a barrel, and to the core of a pin (two at least)
  std::vector<double> more_across;  ///< m, further cell boundaries from the hinge edge
  std::vector<double> more_through; ///< m, further cell boundaries from the fire face
  std::vector<double> more_along;   ///< m, further cell boundaries from z = 0
};

/// Refinement levels, 1 the coarsest: what a drop mostly depends on can be finer than the rest.
struct RefinementLevel {
  int panel = 1; ///< panel, jamb, and round the pins
  int hinge = 1; ///< cells along every knuckle and in a leaf, at least `whole`
  bool operator==(const RefinementLevel&) const = default;
};

/// Mesh density of these levels for this door; cell sizes are the door's own dimensions over the
/// level.
MeshDensity mesh_density(const Door& door, const RefinementLevel& level);

/// The same level everywhere: 1, 2, 3 ...
MeshDensity mesh_density(const Door& door, int level);

} // namespace hangtrue::door
