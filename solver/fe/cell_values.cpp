// SPDX-License-Identifier: GPL-3.0-or-later
#include "solver/fe/cell_values.hpp"

#include "meshing/common/errors.hpp"

#include <deal.II/base/quadrature_lib.h>
#include <deal.II/dofs/dof_handler.h>
#include <deal.II/fe/fe_values.h>

#include <string>

namespace hangtrue::fe
{

namespace
{

void require_positive_volume(const CellValues& at)
{
  for (unsigned q = 0; q < quadrature_points; ++q)
    if (!(at.fe.JxW(q) > 0.0)) {
      const auto middle = at.fe.quadrature_point(quadrature_points / 2);
      throw ComputeError("mesh: a cell near x " + std::to_string(1e3 * middle[0]) + ", y " +
                         std::to_string(1e3 * middle[1]) + ", z " +
                         std::to_string(1e3 * middle[2]) +
                         " mm is turned inside out; look for parts that crowd each other there");
    }
}

} // namespace

bool is_steel(const mesh::Hex27& cell)
{
  return cell.part != mesh::Part::insulation && cell.part != mesh::Part::hollow;
}

std::array<double, quadrature_points> volumes(const CellValues& at)
{
  std::array<double, quadrature_points> result{};
  for (unsigned q = 0; q < quadrature_points; ++q)
    result[q] = at.fe.JxW(q);
  return result;
}

std::array<double, quadrature_points> values(const CellValues& at, const std::vector<double>& field)
{
  std::array<double, quadrature_points> result{};
  for (unsigned i = 0; i < 27; ++i)
    for (unsigned q = 0; q < quadrature_points; ++q)
      result[q] += field[at.node[i]] * at.fe.shape_value(i, q);
  return result;
}

void visit_cells(const Discretization& space, const CellPredicate& include,
                 const CellVisitor& visit)
{
  const auto& cells = space.body().cells;
  dealii::FEValues<3> fe(space.mapping(), space.dofs().get_fe(), dealii::QGauss<3>(3),
                         dealii::update_values | dealii::update_gradients |
                             dealii::update_quadrature_points | dealii::update_inverse_jacobians |
                             dealii::update_JxW_values);
  for (const auto& cell : space.dofs().active_cell_iterators()) {
    const std::size_t index = cell->active_cell_index();
    if (!include(cells[index]))
      continue;
    fe.reinit(cell);
    const CellValues at{fe, cells[index], index, nodes_of(cells[index])};
    require_positive_volume(at);
    visit(at);
  }
}

} // namespace hangtrue::fe
