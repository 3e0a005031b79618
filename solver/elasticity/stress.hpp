// SPDX-License-Identifier: GPL-3.0-or-later
// Stress and strain of a cell under displacements, as deal.II's symmetric tensors.
#pragma once

#include "solver/elasticity/isotropic_elasticity.hpp"
#include "solver/elasticity/node_field.hpp"
#include "solver/fe/cell_values.hpp"

#include <deal.II/base/symmetric_tensor.h>

#include <array>
#include <vector>

namespace hangtrue::elasticity
{

/// Stress, Pa, or another symmetric tensor of rank 2 of the same components.
using Stress = dealii::SymmetricTensor<2, 3>;
/// Strain, m/m.
using Strain = dealii::SymmetricTensor<2, 3>;

/// Isotropic elasticity tensor, Pa, of Hooke's law: lambda 1 x 1 + 2 mu S, S the symmetric identity
/// (Timoshenko and Goodier, Theory of Elasticity; from memory).
dealii::SymmetricTensor<4, 3> elasticity_tensor(const Elasticity& e);

/// Stress, Pa, of an isotropic free strain that is fully restrained, with its sign turned:
/// (3 lambda + 2 mu) strain 1 (Duhamel and Neumann; Timoshenko and Goodier, Theory of Elasticity,
/// from memory).
Stress free_strain_stress(const Elasticity& e, double strain);

/// Small strain at the points of a cell under displacements, m per node.
std::array<Strain, fe::quadrature_points> strains(const fe::CellValues& at,
                                                  const NodeField& displacements);

/// Stress, Pa, at the points of a cell under displacements, m per node.
std::array<Stress, fe::quadrature_points> stresses(const fe::CellValues& at, const Elasticity& e,
                                                   const NodeField& displacements);

/// Internal nodal forces, N, of a stressed cell by shape function, `CellValues::node`: the integral
/// of B^T sigma.
std::array<Vec3, 27> cell_forces(const fe::CellValues& at,
                                 const std::array<Stress, fe::quadrature_points>& stress);

} // namespace hangtrue::elasticity
