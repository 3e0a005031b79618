// SPDX-License-Identifier: GPL-3.0-or-later
// Stiffness of a pair of shape functions from the product of their gradients.
#pragma once

#include "solver/elasticity/isotropic_elasticity.hpp"
#include "solver/fe/cell_values.hpp"

#include <deal.II/base/tensor.h>

#include <array>

namespace hangtrue::elasticity
{

/// Gradients of the functions of a cell at its points, 1/m: [point][function].
using Gradients = std::array<std::array<dealii::Tensor<1, 3>, 27>, fe::quadrature_points>;

/// Integral over a cell of grad phi_a x grad phi_b (outer product), m; `volume` is JxW, m^3.
inline dealii::Tensor<2, 3>
gradient_product(const std::array<double, fe::quadrature_points>& volume, const Gradients& gradient,
                 unsigned a, unsigned b)
{
  dealii::Tensor<2, 3> g;
  for (unsigned q = 0; q < fe::quadrature_points; ++q)
    g += outer_product(gradient[q][a], volume[q] * gradient[q][b]);
  return g;
}

/// The 3 x 3 block of the stiffness, N/m, of functions a and b from G, m, the integral of grad
/// phi_a x grad phi_b: lambda G + mu G^T + mu tr(G) 1 (Hughes, The Finite Element Method,
/// section 2.9; from memory). All components have the same scalar functions, so nine entries need
/// one product of gradients and not nine products of strains.
inline dealii::Tensor<2, 3> stiffness_block(const dealii::Tensor<2, 3>& g, const Elasticity& e)
{
  dealii::Tensor<2, 3> block = e.lambda * g + e.mu * transpose(g);
  const double of_trace = e.mu * trace(g);
  for (unsigned d = 0; d < 3; ++d)
    block[d][d] += of_trace;
  return block;
}

} // namespace hangtrue::elasticity
