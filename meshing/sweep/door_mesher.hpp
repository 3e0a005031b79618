// SPDX-License-Identifier: GPL-3.0-or-later
// From the door to its mesh: one section, a list of grid planes, and the sweep along them.
#pragma once

#include "meshing/door/door.hpp"
#include "meshing/door/mesh_density.hpp"
#include "meshing/mesh/mesh.hpp"

namespace hangtrue::sweep
{

/// Mesh of the door at its swing angle, all 27-node hexahedra.
/// Throws ComputeError when the section cannot be meshed; `faults(door)` must be empty.
mesh::Mesh make_mesh(const door::Door& door, const door::MeshDensity& fine);

/// Mesh of the panel alone, without hinges and jamb. Throws like `make_mesh`.
mesh::BodyMesh make_panel_mesh(door::Door door, const door::MeshDensity& fine);

} // namespace hangtrue::sweep
