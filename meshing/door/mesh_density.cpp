// SPDX-License-Identifier: GPL-3.0-or-later
#include "meshing/door/mesh_density.hpp"

#include <algorithm>

namespace hangtrue::door
{

MeshDensity mesh_density(const Door& door, const RefinementLevel& levels)
{
  double knuckle = door.panel.height;
  for (const auto& hinge : door.hinges)
    for (const auto& k : hinge.knuckles)
      knuckle = std::min(knuckle, k.length);
  const int level = levels.panel;
  const double longest = std::max(door.panel.width, door.panel.height);
  MeshDensity fine;
  fine.panel_cell = longest / (4.0 + 4.0 * level);
  // Level 1 is the coarse mesh beside level 2: what both share, their difference says nothing of.
  fine.finer_panel_cell = level == 1 ? longest / 12.0 : 0.0;
  fine.hinge_cell =
      std::max(knuckle / levels.hinge, fine.panel_cell / 8.0 * levels.panel / levels.hinge);
  fine.along_knuckle = levels.hinge;        // a drop depends on these cells more than on any others
  fine.across_rim = std::max(1, level - 1); // on level 2 a bow gains 0.1 to 0.3 % by two
  fine.around_pin = std::max(24, 8 + 8 * level); // 32 on level 2 changes a drop by 0.1 to 0.8 %
  fine.through_cavity = level > 1 ? 2 : 1;
  fine.through_ring = level > 1 ? 2 : 1;
  return fine;
}

MeshDensity mesh_density(const Door& door, int level)
{
  return mesh_density(door, RefinementLevel{level, level});
}

} // namespace hangtrue::door
