// SPDX-License-Identifier: GPL-3.0-or-later
#include "solver/fe/discretization.hpp"

#include "meshing/common/errors.hpp"
#include "meshing/mesh/joint_group.hpp"

#include <deal.II/base/multithread_info.h>
#include <deal.II/dofs/dof_handler.h>
#include <deal.II/fe/fe_q.h>
#include <deal.II/fe/fe_system.h>
#include <deal.II/fe/fe_tools.h>
#include <deal.II/fe/mapping_q_cache.h>
#include <deal.II/grid/tria.h>
#include <deal.II/lac/affine_constraints.h>

#include <algorithm>
#include <map>
#include <numeric>
#include <string>
#include <utility>

namespace hangtrue::fe
{

namespace
{

using dealii::types::global_dof_index;

// The work is divided elsewhere, by tasks (decision 95): deal.II's own threads are off, here and
// nowhere else, before the first of its loops.
void turn_threads_off()
{
  static const bool once = [] {
    dealii::MultithreadInfo::set_thread_limit(1);
    return true;
  }();
  static_cast<void>(once);
}

dealii::Point<3> point(const Vec3& p)
{
  return {p.x, p.y, p.z};
}

// Corner of Hex27 that is a vertex of deal.II's cell.
int corner(unsigned vertex)
{
  return static_cast<int>(2 * (vertex & 1U) + 6 * (vertex >> 1U & 1U) + 18 * (vertex >> 2U));
}

void triangulate(const mesh::BodyMesh& body, const std::vector<int>& group,
                 dealii::Triangulation<3>& triangulation)
{
  std::vector<dealii::Point<3>> vertices;
  std::vector<dealii::CellData<3>> cells;
  std::map<std::pair<int, int>, unsigned> vertex_of; // by node and group
  for (std::size_t c = 0; c < body.cells.size(); ++c) {
    dealii::CellData<3> cell;
    cell.material_id = static_cast<dealii::types::material_id>(body.cells[c].part);
    for (unsigned v = 0; v < 8; ++v) {
      const int node = body.cells[c].node[corner(v)];
      const auto [at, fresh] =
          vertex_of.try_emplace({node, group[c]}, static_cast<unsigned>(vertices.size()));
      if (fresh)
        vertices.push_back(point(body.nodes[node]));
      cell.vertices[v] = at->second;
    }
    cells.push_back(std::move(cell));
  }
  triangulation.create_triangulation(vertices, cells, dealii::SubCellData());
}

// Dofs in the order of the body's nodes, further ones at the same node after all these.
std::vector<int> renumber_by_node(const mesh::BodyMesh& body, dealii::DoFHandler<3>& dofs)
{
  std::vector<int> node(dofs.n_dofs(), -1);
  std::vector<global_dof_index> of_cell(27);
  for (const auto& cell : dofs.active_cell_iterators()) {
    cell->get_dof_indices(of_cell);
    for (unsigned i = 0; i < 27; ++i) {
      const int here = body.cells[cell->active_cell_index()].node[node_of_shape_function()[i]];
      int& known = node[of_cell[i]];
      if (known >= 0 && known != here)
        throw ComputeError("mesh: two cells of the " + body.name +
                           " share a side and not its nodes; report this door to the authors");
      known = here;
    }
  }
  std::vector<global_dof_index> order(node.size());
  std::iota(order.begin(), order.end(), 0);
  std::stable_sort(order.begin(), order.end(),
                   [&](global_dof_index a, global_dof_index b) { return node[a] < node[b]; });
  const auto repeated = [&](global_dof_index place) {
    return place > 0 && node[order[place]] == node[order[place - 1]];
  };
  std::vector<global_dof_index> number(node.size());
  global_dof_index next = 0;
  for (const bool second : {false, true})
    for (global_dof_index place = 0; place < order.size(); ++place)
      if (repeated(place) == second)
        number[order[place]] = next++;
  std::vector<int> result(node.size());
  for (std::size_t d = 0; d < node.size(); ++d)
    result[number[d]] = node[d];
  dofs.renumber_dofs(number);
  return result;
}

dealii::AffineConstraints<double> ties_of(const std::vector<int>& node_of_dof)
{
  std::map<int, global_dof_index> first;
  dealii::AffineConstraints<double> ties;
  for (global_dof_index d = 0; d < node_of_dof.size(); ++d)
    if (const auto [at, fresh] = first.try_emplace(node_of_dof[d], d); !fresh) {
      ties.add_line(d);
      ties.add_entry(d, at->second, 1.0);
    }
  ties.close();
  return ties;
}

} // namespace

const std::array<int, 27>& node_of_shape_function()
{
  static const std::array<int, 27> result = [] { // constant, like any table
    std::array<int, 27> numbers{};
    const auto lexicographic = dealii::FETools::hierarchic_to_lexicographic_numbering<3>(degree);
    std::copy(lexicographic.begin(), lexicographic.end(), numbers.begin());
    return numbers;
  }();
  return result;
}

struct Discretization::Parts {
  mesh::BodyMesh body;
  dealii::Triangulation<3> triangulation;
  dealii::MappingQCache<3> mapping{degree};
  dealii::FE_Q<3> scalar{degree};
  dealii::FESystem<3> vector{scalar, 3};
  dealii::DoFHandler<3> temperature;
  dealii::DoFHandler<3> displacement;
  dealii::AffineConstraints<double> ties;
  std::vector<int> node_of_dof;

  Parts(mesh::BodyMesh mesh, const std::vector<int>& groups) : body(std::move(mesh))
  {
    triangulate(body, groups, triangulation);
    mapping.initialize(triangulation, [this](const auto& cell) {
      std::vector<dealii::Point<3>> support(27);
      for (unsigned i = 0; i < 27; ++i)
        support[i] = point(
            body.nodes[body.cells[cell->active_cell_index()].node[node_of_shape_function()[i]]]);
      return support;
    });
    temperature.reinit(triangulation);
    temperature.distribute_dofs(scalar);
    node_of_dof = renumber_by_node(body, temperature);
    ties = ties_of(node_of_dof);
    displacement.reinit(triangulation);
    displacement.distribute_dofs(vector);
  }
};

Discretization::Discretization(const mesh::BodyMesh& body)
    : Discretization(body, mesh::joint_groups(body))
{
}

Discretization::Discretization(const mesh::BodyMesh& body, const std::vector<int>& groups)
{
  turn_threads_off(); // before FESystem, whose constructor would start them
  parts_ = std::make_shared<const Parts>(body, groups);
}

const mesh::BodyMesh& Discretization::body() const
{
  return parts_->body;
}

const dealii::Triangulation<3>& Discretization::triangulation() const
{
  return parts_->triangulation;
}

const dealii::Mapping<3>& Discretization::mapping() const
{
  return parts_->mapping;
}

const dealii::DoFHandler<3>& Discretization::temperature() const
{
  return parts_->temperature;
}

const dealii::DoFHandler<3>& Discretization::displacement() const
{
  return parts_->displacement;
}

const dealii::AffineConstraints<double>& Discretization::ties() const
{
  return parts_->ties;
}

const std::vector<int>& Discretization::node_of_dof() const
{
  return parts_->node_of_dof;
}

std::vector<int> Discretization::unknown_of_dof() const
{
  std::vector<int> result(parts_->displacement.n_dofs(), -1);
  std::vector<global_dof_index> of_cell(81);
  for (const auto& cell : parts_->displacement.active_cell_iterators()) {
    cell->get_dof_indices(of_cell);
    for (unsigned i = 0; i < 81; ++i) {
      const auto [component, shape] = parts_->vector.system_to_component_index(i);
      result[of_cell[i]] =
          3 * parts_->body.cells[cell->active_cell_index()].node[node_of_shape_function()[shape]] +
          static_cast<int>(component);
    }
  }
  return result;
}

} // namespace hangtrue::fe
