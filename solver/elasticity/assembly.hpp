// SPDX-License-Identifier: GPL-3.0-or-later
// The terms of elasticity, each assembled over the cells of a body: stiffness, internal forces, and
// forces of a free strain.
#pragma once

#include "solver/elasticity/isotropic_elasticity.hpp"
#include "solver/elasticity/node_field.hpp"
#include "solver/fe/cell_values.hpp"
#include "solver/linear_algebra/block_cholesky.hpp"

#include <vector>

namespace hangtrue::elasticity
{

/// Stiffness, N/m, of a body whose every cell is steel, with the elasticity of each cell.
linear_algebra::BlockMatrix assemble_stiffness(const fe::Discretization& space,
                                               const std::vector<Elasticity>& elasticity);

/// Stiffness, N/m, of the steel of a body over `count` nodes; `number` is the row of every node of
/// the body, -1 without steel.
linear_algebra::BlockMatrix assemble_stiffness(const fe::Discretization& space,
                                               const std::vector<Elasticity>& elasticity,
                                               const std::vector<int>& number, int count);

/// Nodal forces, N, that the strained cells for which `include` is true put on their nodes: the
/// integral of B^T sigma, which balances the outer forces where the body is in equilibrium.
NodeField internal_forces(const fe::Discretization& space, const fe::CellPredicate& include,
                          const CellElasticity& elasticity_of, const NodeField& displacements);

/// Nodal forces, N, of a free strain (thermal elongation at the nodes, m/m, isotropic) on a body:
/// the integral of B^T (3 lambda + 2 mu) strain. They are self-equilibrated.
NodeField free_strain_forces(const fe::Discretization& space, const CellElasticity& elasticity_of,
                             const std::vector<double>& strain);

} // namespace hangtrue::elasticity
