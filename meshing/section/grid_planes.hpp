// Where anything begins or ends: across the door (x), through it (y) and along the axis (z).
#pragma once

#include "meshing/door/door.hpp"
#include "meshing/door/mesh_density.hpp"
#include "meshing/mesh/mesh.hpp"

#include <vector>

namespace hangtrue
{

/// Rising places with no two closer than `snap_distance`, m.
using Places = std::vector<double>;

/// A shop cannot cut finer than this, m: places closer together are made one.
constexpr double snap_distance = 0.2e-3;

/// Sorts places; one that lies within the snap distance of an earlier named one takes its place,
/// so walls (named first) stay where they are drawn.
Places merged(const std::vector<double>& named_first_wins);

/// Cuts the spaces between places into equal cells no longer than `cell`, m, at least so many in
/// each.
Places divided(const Places& places, double cell, int at_least = 1);

/// Cell boundaries across the panel, 0 to width, m.
Places across_panel(const Door& door, const Fineness& fine);

/// Cell boundaries through the panel, 0 to depth, m.
Places through_panel(const Door& door, const Fineness& fine);

/// Cell boundaries along the hinge axis, 0 to height, m.
Places along_axis(const Door& door, const Fineness& fine);

/// Cell boundaries over the jamb, from its opening edge (0) to where it is held, m. They contain
/// `land`, the boundaries of the door's lands, so that both halves of a hinge are alike.
Places over_jamb(const Door& door, const Places& land, const Fineness& fine);

/// All stations of a door but those through its panel.
Stations stations_of(const Door& door, const Fineness& fine);

/// Greatest foot of a leaf or lug on the face over all hinges, m.
double widest_foot(const Door& door);

/// The place in `places` that a drawn place was snapped to.
double snapped(const Places& places, double drawn);

} // namespace hangtrue
