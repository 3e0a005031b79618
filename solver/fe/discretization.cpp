// SPDX-License-Identifier: GPL-3.0-or-later
#include "solver/fe/discretization.hpp"

#include "meshing/common/errors.hpp"
#include "meshing/mesh/joint_group.hpp"

#include <deal.II/base/multithread_info.h>
#include <deal.II/dofs/dof_handler.h>
#include <deal.II/fe/fe_q.h>
#include <deal.II/fe/fe_tools.h>
#include <deal.II/fe/mapping_q_cache.h>
#include <deal.II/grid/tria.h>

#include <algorithm>
#include <map>
#include <string>
#include <utility>

namespace hangtrue::fe
{

namespace
{

// The work is divided elsewhere, by tasks (decision 95): deal.II's own threads are off, here and
// nowhere else, before its first object: FESystem's constructor would start them.
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

std::vector<int> find_nodes(const mesh::BodyMesh& body, const dealii::DoFHandler<3>& dofs)
{
  std::vector<int> node(dofs.n_dofs(), -1);
  std::vector<dealii::types::global_dof_index> of_cell(27);
  for (const auto& cell : dofs.active_cell_iterators()) {
    cell->get_dof_indices(of_cell);
    const auto nodes = nodes_of(body.cells[cell->active_cell_index()]);
    for (unsigned i = 0; i < 27; ++i) {
      int& known = node[of_cell[i]];
      if (known >= 0 && known != nodes[i])
        throw ComputeError("mesh: two cells of the " + body.name +
                           " share a side and not its nodes; report this door to the authors");
      known = nodes[i];
    }
  }
  return node;
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

std::array<int, 27> nodes_of(const mesh::Hex27& cell)
{
  std::array<int, 27> result{};
  for (unsigned i = 0; i < 27; ++i)
    result[i] = cell.node[node_of_shape_function()[i]];
  return result;
}

struct Discretization::Parts {
  mesh::BodyMesh body;
  dealii::Triangulation<3> triangulation;
  dealii::MappingQCache<3> mapping{degree};
  dealii::FE_Q<3> element{degree};
  dealii::DoFHandler<3> dofs;
  std::vector<int> node_of_dof;

  Parts(mesh::BodyMesh mesh, const std::vector<int>& groups) : body(std::move(mesh))
  {
    triangulate(body, groups, triangulation);
    mapping.initialize(triangulation, [this](const auto& cell) {
      std::vector<dealii::Point<3>> support;
      for (const int n : nodes_of(body.cells[cell->active_cell_index()]))
        support.push_back(point(body.nodes[n]));
      return support;
    });
    dofs.reinit(triangulation);
    dofs.distribute_dofs(element);
    node_of_dof = find_nodes(body, dofs);
  }
};

Discretization::Discretization(const mesh::BodyMesh& body)
    : Discretization(body, mesh::joint_groups(body))
{
}

Discretization::Discretization(const mesh::BodyMesh& body, const std::vector<int>& groups)
{
  turn_threads_off();
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

const dealii::DoFHandler<3>& Discretization::dofs() const
{
  return parts_->dofs;
}

const std::vector<int>& Discretization::node_of_dof() const
{
  return parts_->node_of_dof;
}

std::size_t Discretization::bytes() const
{
  const mesh::BodyMesh& body = parts_->body;
  return parts_->triangulation.memory_consumption() + parts_->mapping.memory_consumption() +
         parts_->dofs.memory_consumption() + sizeof(int) * parts_->node_of_dof.size() +
         sizeof(Vec3) * body.nodes.size() + sizeof(mesh::Hex27) * body.cells.size();
}

} // namespace hangtrue::fe
