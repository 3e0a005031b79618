// What a mesh must be before anything is computed on it.
#pragma once

#include "meshing/mesh.hpp"

#include <map>

namespace hangtrue
{

/// Measured on the mesh itself.
struct MeshQuality {
  double least_jacobian = 0.0;   ///< m^3, least determinant at the quadrature points
  double worst_ratio = 0.0;      ///< least over greatest determinant inside one cell
  double worst_joint = 0.0;      ///< relative error of the welded area between leaf and face
  double worst_volume = 0.0;     ///< greatest relative error of a part's volume
  std::map<Part, double> volume; ///< m^3 per part, all bodies
  int cells = 0;
  int nodes = 0;
};

/// Measures the mesh and holds it against the door: Jacobians positive, part volumes equal to
/// the sum of the drawn parts, weld faces joined over their drawn area.
/// Throws ComputeError naming the part and the place of the first rule broken.
MeshQuality inspect(const Mesh& mesh, const Door& door);

} // namespace hangtrue
