// From the door to its mesh: one section, a list of grid planes, and the sweep along them.
#pragma once

#include "meshing/door/door.hpp"
#include "meshing/door/mesh_density.hpp"
#include "meshing/mesh/mesh.hpp"

namespace hangtrue
{

/// Mesh of the door at its swing angle, all 27-node hexahedra.
/// Throws ComputeError when the section cannot be meshed; `faults(door)` must be empty.
Mesh loft(const Door& door, const Fineness& fine);

/// Mesh of the panel alone, without hinges and jamb. Throws like `loft`.
BodyMesh loft_panel(Door door, const Fineness& fine);

} // namespace hangtrue
