// SPDX-License-Identifier: GPL-3.0-or-later
// Loop over the cells of a body with deal.II's FEValues.
#pragma once

#include "solver/fe/discretization.hpp"

#include <array>
#include <cstddef>
#include <functional>
#include <vector>

namespace hangtrue::fe
{

/// Points of the Gauss rule of a cell, three in each direction: exact for the stiffness of a
/// rectangular cell.
inline constexpr unsigned quadrature_points = 27;

/// A cell and the scalar FE_Q(2) at the points of its Gauss rule: values, gradients (1/m), places
/// (m), JxW (m^3) and inverse Jacobians (1/m). Shape function i is that of the body's node
/// `node[i]`.
struct CellValues {
  const dealii::FEValues<3, 3>& fe;
  const mesh::Hex27& cell;
  std::size_t index = 0; ///< of the cell in the body
  std::array<int, 27> node{};
};

/// JxW of the points of a cell, m^3.
std::array<double, quadrature_points> volumes(const CellValues& at);

/// Values at the points of a cell of a field, one per node of the body.
std::array<double, quadrature_points> values(const CellValues& at,
                                             const std::vector<double>& field);

/// True for the requested cells.
using CellPredicate = std::function<bool(const mesh::Hex27&)>;
/// Called with one cell after the other.
using CellVisitor = std::function<void(const CellValues&)>;

/// True for steel: every cell that can carry load.
bool is_steel(const mesh::Hex27& cell);

/// Calls `visit` for every selected cell of the body in turn. Throws ComputeError at a cell that is
/// turned inside out.
void visit_cells(const Discretization& space, const CellPredicate& include,
                 const CellVisitor& visit);

} // namespace hangtrue::fe
