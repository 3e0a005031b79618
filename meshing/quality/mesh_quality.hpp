// SPDX-License-Identifier: GPL-3.0-or-later
// What a mesh must be before anything is computed on it.
#pragma once

#include "meshing/mesh/mesh.hpp"

#include <map>

namespace hangtrue::quality
{

/// Measured on the mesh itself.
struct MeshQuality {
  double min_jacobian = 0.0;           ///< m^3, least determinant at the quadrature points
  double worst_ratio = 0.0;            ///< least over greatest determinant inside one cell
  double worst_joint = 0.0;            ///< relative error of the welded area as drawn, leaf to face
  double worst_volume = 0.0;           ///< greatest relative error of a part's drawn volume
  std::map<mesh::Part, double> volume; ///< m^3 per part, all bodies
  int cells = 0;
  int nodes = 0;
};

/// Checks the mesh against the door: Jacobians positive, every nominal position on a grid plane
/// within the snap distance, part volumes and areas of welds equal to those between the grid
/// planes. Throws ComputeError naming the part and the point of the first rule broken.
MeshQuality inspect(const mesh::Mesh& mesh, const door::Door& door);

} // namespace hangtrue::quality
