// SPDX-License-Identifier: GPL-3.0-or-later
#include "solver/fe/shape_functions.hpp"

#include "meshing/common/errors.hpp"

#include <deal.II/base/multithread_info.h>
#include <deal.II/base/quadrature_lib.h>
#include <deal.II/fe/fe_q.h>
#include <deal.II/fe/fe_tools.h>

#include <string>

namespace hangtrue::fe
{

namespace
{

// Triquadratic shapes of deal.II on its reference cell, in the node order of the meshes.
struct Reference {
  std::array<double, 27> weight{};
  std::array<std::array<double, 27>, 27> value{}; // [point][node]
  std::array<std::array<Vec3, 27>, 27> slope{};
};

Reference make_reference()
{
  // 27 numbers are no work for threads of the library's own: the work is divided elsewhere
  // (decision 28).
  dealii::MultithreadInfo::set_thread_limit(1);
  const dealii::FE_Q<3> element(2);
  const dealii::QGauss<3> rule(3);
  // Hierarchic to i + 3 j + 9 k.
  const auto ours = dealii::FETools::hierarchic_to_lexicographic_numbering<3>(2);
  Reference result;
  for (unsigned int q = 0; q < 27; ++q) {
    result.weight[q] = rule.weight(q);
    for (unsigned int h = 0; h < 27; ++h) {
      const auto g = element.shape_grad(h, rule.point(q));
      result.value[q][ours[h]] = element.shape_value(h, rule.point(q));
      result.slope[q][ours[h]] = {g[0], g[1], g[2]};
    }
  }
  return result;
}

// Isoparametric: the nodes of a cell are its geometry.
void place_shape(const Reference& on, const std::array<Vec3, 27>& nodes, CellShape& shape)
{
  for (int q = 0; q < 27; ++q) {
    std::array<Vec3, 3> edge{}; // edge[d] = place by reference direction d
    for (int n = 0; n < 27; ++n) {
      edge[0] += on.slope[q][n].x * nodes[n];
      edge[1] += on.slope[q][n].y * nodes[n];
      edge[2] += on.slope[q][n].z * nodes[n];
    }
    std::array<Vec3, 3> across{cross(edge[1], edge[2]), cross(edge[2], edge[0]),
                               cross(edge[0], edge[1])};
    const double jacobian = dot(edge[0], across[0]);
    if (!(jacobian > 0.0))
      throw ComputeError("mesh: a cell near x " + std::to_string(1e3 * nodes[13].x) + ", y " +
                         std::to_string(1e3 * nodes[13].y) + ", z " +
                         std::to_string(1e3 * nodes[13].z) +
                         " mm is turned inside out; look for parts that crowd each other there");
    shape.volume[q] = on.weight[q] * jacobian;
    for (auto& a : across)
      a = (1.0 / jacobian) * a; // rows of the inverse: gradients of the reference coordinates
    for (int n = 0; n < 27; ++n) {
      const Vec3& s = on.slope[q][n];
      shape.slope[q][n] = s.x * across[0] + s.y * across[1] + s.z * across[2];
    }
  }
}

} // namespace

bool is_steel(const mesh::Hex27& cell)
{
  return cell.part != mesh::Part::insulation && cell.part != mesh::Part::hollow;
}

void visit_cells(const mesh::BodyMesh& body, const CellPredicate& include, const CellVisitor& visit)
{
  static const Reference reference = make_reference(); // constant, like any table
  CellShape shape;
  shape.value = reference.value;
  std::array<Vec3, 27> nodes{};
  for (const auto& cell : body.cells) {
    if (!include(cell))
      continue;
    for (int n = 0; n < 27; ++n)
      nodes[n] = body.nodes[cell.node[n]];
    place_shape(reference, nodes, shape);
    visit(cell, shape);
  }
}

} // namespace hangtrue::fe
