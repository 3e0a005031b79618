// SPDX-License-Identifier: GPL-3.0-or-later
// The mesh for other programs.
#pragma once

#include "meshing/mesh/mesh.hpp"

#include <string>

namespace hangtrue::mesh
{

/// Writes all bodies as 27-node hexahedra to a .msh file (format 4.1), one physical group per body
/// and part, through the Gmsh library. Throws InputError when the disk has no space for the whole
/// file.
void write_msh(const Mesh& mesh, const std::string& path);

} // namespace hangtrue::mesh
