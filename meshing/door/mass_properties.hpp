// SPDX-License-Identifier: GPL-3.0-or-later
// Mass and centre of gravity of the door by closed formulas, from the nominal dimensions alone.
#pragma once

#include "meshing/common/vec3.hpp"
#include "meshing/door/door.hpp"

#include <string>
#include <vector>

namespace hangtrue::door
{

/// One part of the door's body at nominal dimensions.
struct PartMass {
  std::string part;
  double mass = 0.0; ///< kg
  Vec3 centre;       ///< m, its centre of gravity in the door frame
};

/// Parts of the panel and of the door's hinge halves (not the frame halves, not floating pins):
/// plates by length x width x thickness, the rim and tubes with sharp corners, webs and lugs by
/// the area of their outline. Independent of the mesh. Needs `faults(door)` to be empty.
std::vector<PartMass> part_masses(const Door& door);

/// All parts as one: total mass, kg, and common centre of gravity, m.
PartMass total_mass(const std::vector<PartMass>& parts);

} // namespace hangtrue::door
