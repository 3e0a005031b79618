// SPDX-License-Identifier: GPL-3.0-or-later
// Section forces of a pin, from the nodal forces of its layers.
#pragma once

#include "meshing/mesh/mesh.hpp"
#include "solver/elasticity/elastic_body.hpp"

#include <vector>

namespace hangtrue::strength
{

/// Section forces along one pin, from equilibrium.
struct PinForces {
  int hinge = 0;
  std::vector<double> z;         ///< m
  std::vector<double> shear;     ///< N, resultant
  std::vector<double> bending;   ///< N m, resultant
  double greatest_shear = 0.0;   ///< N
  double greatest_bending = 0.0; ///< N m
  double tilt = 0.0;             ///< rad, of the pin against its nominal axis
};

/// Bending moment, N m, of one hinge's pin at every height at which it has nodes, about its axis
/// (the greater of just above and just below), and the shear, N, from there to the next one. They
/// are the resultants of the forces that each layer of pin cells puts on its faces, so they balance
/// the contact forces exactly whatever the mesh. `greatest` values are filled as well.
PinForces pin_section_forces(const fe::Discretization& space, int hinge,
                             const door::AxisPosition& axis,
                             const elasticity::CellElasticity& elasticity_of,
                             const elasticity::NodeField& displacements);

} // namespace hangtrue::strength
