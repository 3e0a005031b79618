#include "meshing/door/mesh_density.hpp"

#include <algorithm>

namespace hangtrue
{

Fineness fineness(const Door& door, const Levels& levels)
{
  double knuckle = door.panel.height;
  for (const auto& hinge : door.hinges)
    for (const auto& k : hinge.knuckles)
      knuckle = std::min(knuckle, k.length);
  const int level = levels.whole;
  Fineness fine;
  fine.panel_cell = std::max(door.panel.width, door.panel.height) / (4.0 + 4.0 * level);
  fine.hinge_cell =
      std::max(knuckle / levels.in_hinges, fine.panel_cell / 8.0 * levels.whole / levels.in_hinges);
  fine.along_knuckle = levels.in_hinges;    // a drop depends on these cells more than on any others
  fine.across_rim = std::max(1, level - 1); // on level 2 a bow gains 0.1 to 0.3 % by two
  fine.around_pin = std::max(24, 8 + 8 * level); // 32 on level 2 changes a drop by 0.1 to 0.8 %
  fine.through_cavity = level > 1 ? 2 : 1;
  fine.through_ring = level > 1 ? 2 : 1;
  return fine;
}

Fineness fineness(const Door& door, int level)
{
  return fineness(door, Levels{level, level});
}

} // namespace hangtrue
