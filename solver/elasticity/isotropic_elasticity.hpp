// SPDX-License-Identifier: GPL-3.0-or-later
// Elastic constants of a cell.
#pragma once

#include "meshing/mesh/mesh.hpp"

#include <functional>

namespace hangtrue::elasticity
{

/// Lame's constants, Pa.
struct Elasticity {
  double lambda = 0.0;
  double mu = 0.0;
};

/// Lame's constants from Young's modulus, Pa, and Poisson's ratio.
Elasticity elasticity(double youngs_modulus, double poisson);

/// Elasticity by cell.
using CellElasticity = std::function<Elasticity(const mesh::Hex27&)>;

} // namespace hangtrue::elasticity
