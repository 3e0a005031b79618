// SPDX-License-Identifier: GPL-3.0-or-later
// Meshes and displacements for other programs, as VTK XML files.
#pragma once

#include "meshing/mesh/mesh.hpp"
#include "solver/analysis/open_result.hpp"

#include <string>
#include <vector>

namespace hangtrue::viz
{

/// Writes one body as 27-node hexahedra with part, hinge and (when given) the displacement, m, of
/// every node. Throws InputError when the disk has no space for the whole file.
void write_vtu(const mesh::BodyMesh& body, const std::vector<Vec3>* displacements,
               const std::string& path);

/// One body's file in a set.
struct SetEntry {
  std::string file; ///< relative to the set
  std::string state;
  int step = 0;
};

/// Text of a .pvd file that collects a set.
std::string pvd_text(const std::vector<SetEntry>& entries);

} // namespace hangtrue::viz
