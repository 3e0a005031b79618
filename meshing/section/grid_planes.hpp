// SPDX-License-Identifier: GPL-3.0-or-later
// Where anything begins or ends: across the door (x), through it (y) and along the axis (z).
#pragma once

#include "meshing/door/door.hpp"
#include "meshing/door/mesh_density.hpp"
#include "meshing/mesh/mesh.hpp"

#include <vector>

namespace hangtrue::section
{

/// Rising grid lines with no two closer than `snap_distance`, m.
using GridLines = std::vector<double>;

/// A shop cannot cut finer than this, m: positions closer together are merged.
constexpr double snap_distance = 0.2e-3;

/// Sorts positions; one within the snap distance of an earlier named one is merged into it, so
/// walls (named first) stay at their nominal positions.
GridLines merged(const std::vector<double>& named_first_wins);

/// How the space between two grid lines is divided into equal cells.
struct CellSize {
  double greatest = 0.0; ///< m, no cell is longer, but for `finer`
  int at_least = 1;      ///< cells in each space
  /// m, greatest cell on the next finer mesh: a space that has more than `at_least` cells there has
  /// at least one less here. Zero, or not below `greatest`: of no concern.
  double finer = 0.0;
};

/// Number of cells in a space of this length, m.
int cell_count(double length, const CellSize& cell);

/// Divides the spaces between positions into equal cells.
GridLines divided(const GridLines& places, const CellSize& cell);

/// Cells of the panel and of the jamb's back, at least so many in each space.
CellSize panel_cells(const door::MeshDensity& fine, int at_least = 1);

/// Cell boundaries across the panel, 0 to width, m.
GridLines across_panel(const door::Door& door, const door::MeshDensity& fine);

/// Cell boundaries through the panel, 0 to depth, m.
GridLines through_panel(const door::Door& door, const door::MeshDensity& fine);

/// Cell boundaries along the hinge axis, 0 to height, m.
GridLines along_axis(const door::Door& door, const door::MeshDensity& fine);

/// Cell boundaries over the jamb, from its opening edge (0) to where it is supported, m. They
/// contain `land`, the boundaries of the door's lands, so that both halves of a hinge have the same
/// grid.
GridLines over_jamb(const door::Door& door, const GridLines& land, const door::MeshDensity& fine);

/// All grid planes of a door but those through its panel.
mesh::GridPlanes grid_planes_of(const door::Door& door, const door::MeshDensity& fine);

/// Greatest foot of a leaf or lug on the face over all hinges, m.
double widest_foot(const door::Door& door);

/// The grid line in `places` that a nominal position was snapped to.
double snapped(const GridLines& places, double drawn);

} // namespace hangtrue::section
