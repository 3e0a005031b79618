// SPDX-License-Identifier: GPL-3.0-or-later
// Geometry of a 27-node hexahedron: quadratic in each direction, nodes i + 3 j + 9 k.
#pragma once

#include "meshing/common/vec3.hpp"
#include "meshing/mesh/mesh.hpp"

#include <array>

namespace hangtrue::mesh
{

/// Jacobian determinants, m^3, at the 27 points of the 3 x 3 x 3 Gauss rule and their weights.
struct HexMeasure {
  std::array<double, 27> jacobian{};
  double volume = 0.0; ///< m^3
  Vec3 moment;         ///< m^4, integral of the place
};

/// Evaluates one cell of a body.
HexMeasure measure(const BodyMesh& body, const Hex27& cell);

} // namespace hangtrue::mesh
