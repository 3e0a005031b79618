// SPDX-License-Identifier: GPL-3.0-or-later
#include "solver/elasticity/assembly.hpp"

#include "solver/elasticity/gradient_product.hpp"
#include "solver/elasticity/stress.hpp"
#include "solver/fe/congruent_cells.hpp"
#include "solver/fe/tensors.hpp"

#include <deal.II/fe/fe_values.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <memory>
#include <numeric>

namespace hangtrue::elasticity
{

namespace
{

// Blocks [a + 27 b] of shape functions a and b.
using CellMatrix = std::vector<dealii::Tensor<2, 3>>;

CellMatrix cell_stiffness(const fe::CellValues& at, const Elasticity& e)
{
  const auto gradient = std::make_unique<Gradients>();
  const auto volume = fe::volumes(at);
  for (unsigned q = 0; q < fe::quadrature_points; ++q)
    for (unsigned i = 0; i < 27; ++i)
      (*gradient)[q][i] = at.fe.shape_grad(i, q);
  CellMatrix k(27UL * 27UL);
  for (unsigned b = 0; b < 27; ++b)
    for (unsigned a = b; a < 27; ++a) {
      k[a + 27 * b] = stiffness_block(gradient_product(volume, *gradient, a, b), e);
      k[b + 27 * a] = transpose(k[a + 27 * b]);
    }
  return k;
}

// Adds the lower triangle of a cell's matrix, times mu; a block runs down its columns.
void add_cell(const CellMatrix& k, double mu, const mesh::Hex27& cell,
              const std::vector<int>& number, linear_algebra::BlockMatrix& matrix)
{
  std::array<int, 27> own = fe::nodes_of(cell);
  for (int& n : own)
    n = number[n];
  for (unsigned b = 0; b < 27; ++b)
    for (unsigned a = 0; a < 27; ++a) {
      if (own[a] < own[b])
        continue;
      std::array<double, 9> block{};
      for (unsigned r = 0; r < 3; ++r)
        for (unsigned c = 0; c < 3; ++c)
          block[r + 3 * c] = mu * k[a + 27 * b][r][c];
      linear_algebra::add_block(matrix, own[a], own[b], block);
    }
}

} // namespace

linear_algebra::BlockMatrix assemble_stiffness(const fe::Discretization& space,
                                               const std::vector<Elasticity>& elasticity,
                                               const std::vector<int>& number, int count)
{
  const mesh::BodyMesh& body = space.body();
  std::vector<std::array<int, 27>> cells;
  for (const auto& cell : body.cells) {
    if (!fe::is_steel(cell))
      continue;
    cells.push_back(cell.node);
    for (int& n : cells.back())
      n = number[n];
  }
  linear_algebra::BlockMatrix matrix = linear_algebra::block_pattern(count, cells);
  fe::visit_congruent(space, fe::congruent_cells(body, fe::is_steel),
                      [&](const fe::CongruentGroup& group, const fe::CellValues& at) {
                        CellMatrix over_mu;
                        double ratio_of_matrix = -1.0; // no steel has that
                        for (const std::size_t c : group.members) {
                          // Steel of one kind has the same lambda / mu at any temperature.
                          const double ratio = elasticity[c].lambda / elasticity[c].mu;
                          if (std::abs(ratio - ratio_of_matrix) > 1e-14 * ratio) {
                            over_mu = cell_stiffness(at, {ratio, 1.0});
                            ratio_of_matrix = ratio;
                          }
                          add_cell(over_mu, elasticity[c].mu, body.cells[c], number, matrix);
                        }
                      });
  return matrix;
}

linear_algebra::BlockMatrix assemble_stiffness(const fe::Discretization& space,
                                               const std::vector<Elasticity>& elasticity)
{
  std::vector<int> number(space.body().nodes.size());
  std::iota(number.begin(), number.end(), 0);
  return assemble_stiffness(space, elasticity, number, static_cast<int>(number.size()));
}

NodeField internal_forces(const fe::Discretization& space, const fe::CellPredicate& include,
                          const CellElasticity& elasticity_of, const NodeField& displacements)
{
  NodeField forces(space.body().nodes.size());
  fe::visit_cells(space, include, [&](const fe::CellValues& at) {
    const auto own = cell_forces(at, stresses(at, elasticity_of(at.cell), displacements));
    for (unsigned i = 0; i < 27; ++i)
      forces[at.node[i]] += own[i];
  });
  return forces;
}

NodeField free_strain_forces(const fe::Discretization& space, const CellElasticity& elasticity_of,
                             const std::vector<double>& strain)
{
  NodeField forces(space.body().nodes.size());
  fe::visit_cells(space, fe::is_steel, [&](const fe::CellValues& at) {
    const Elasticity e = elasticity_of(at.cell);
    const auto free = fe::values(at, strain);
    for (unsigned q = 0; q < fe::quadrature_points; ++q) {
      const double stress = (3.0 * e.lambda + 2.0 * e.mu) * free[q] * at.fe.JxW(q);
      for (unsigned i = 0; i < 27; ++i)
        forces[at.node[i]] += fe::vec3(stress * at.fe.shape_grad(i, q));
    }
  });
  return forces;
}

} // namespace hangtrue::elasticity
