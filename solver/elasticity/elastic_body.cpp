// SPDX-License-Identifier: GPL-3.0-or-later
#include "solver/elasticity/elastic_body.hpp"

#include "solver/elasticity/assembly.hpp"

#include <algorithm>
#include <array>
#include <cmath>

namespace hangtrue::elasticity
{

std::vector<FixedDof> fix_all(const std::vector<int>& nodes)
{
  std::vector<FixedDof> fixed;
  for (const int n : nodes)
    for (int c = 0; c < 3; ++c)
      fixed.push_back({n, c});
  return fixed;
}

std::vector<FixedDof> isostatic_supports(const mesh::BodyMesh& body)
{
  constexpr double same_place = 1e-7; // m
  auto lower = [](double a, double b) { return a < b - same_place; };
  auto before = [&](const Vec3& a, const Vec3& b) {
    if (lower(a.z, b.z) || lower(b.z, a.z))
      return a.z < b.z;
    if (lower(a.x, b.x) || lower(b.x, a.x))
      return a.x < b.x;
    return a.y < b.y;
  };
  std::vector<char> steel(body.nodes.size(), 0);
  for (const auto& cell : body.cells)
    if (fe::is_steel(cell))
      for (const int n : cell.node)
        steel[n] = 1;
  int first = -1;
  for (std::size_t n = 0; n < body.nodes.size(); ++n)
    if (steel[n] != 0 && (first < 0 || before(body.nodes[n], body.nodes[first])))
      first = static_cast<int>(n);
  // One more far along the axis, one far across it.
  int along = first;
  int across = first;
  const Vec3 origin = body.nodes[first];
  for (std::size_t n = 0; n < body.nodes.size(); ++n) {
    if (steel[n] == 0)
      continue;
    const Vec3 d = body.nodes[n] - origin;
    const bool above = std::abs(d.x) < same_place && std::abs(d.y) < same_place;
    if (above && d.z > body.nodes[along].z - origin.z)
      along = static_cast<int>(n);
    if (std::abs(d.z) < same_place && d.x > body.nodes[across].x - origin.x)
      across = static_cast<int>(n);
  }
  return {{first, 0}, {first, 1}, {first, 2}, {along, 0}, {along, 1}, {across, 1}};
}

namespace
{

std::vector<int> number_steel(const mesh::BodyMesh& mesh, int& count)
{
  std::vector<int> number(mesh.nodes.size(), -1);
  for (const auto& cell : mesh.cells)
    if (fe::is_steel(cell))
      for (const int n : cell.node)
        number[n] = 0;
  count = 0;
  for (int& n : number)
    if (n == 0)
      n = count++;
  return number;
}

std::vector<Elasticity> by_cell(const mesh::BodyMesh& mesh, const CellElasticity& cell_elasticity)
{
  std::vector<Elasticity> result;
  result.reserve(mesh.cells.size());
  for (const auto& cell : mesh.cells)
    result.push_back(fe::is_steel(cell) ? cell_elasticity(cell) : Elasticity{});
  return result;
}

std::vector<char> mark_held(const std::vector<FixedDof>& fixed, const std::vector<int>& number,
                            int count)
{
  std::vector<char> mark(3 * count, 0);
  for (const auto& h : fixed)
    if (number[h.node] >= 0)
      mark[3 * number[h.node] + h.component] = 1;
  return mark;
}

} // namespace

ElasticBody::ElasticBody(const fe::Discretization& space, const CellElasticity& elasticity_of,
                         const std::vector<FixedDof>& fixed)
    : number_(number_steel(space.body(), steel_nodes_)),
      factor_(
          assemble_stiffness(space, by_cell(space.body(), elasticity_of), number_, steel_nodes_),
          mark_held(fixed, number_, steel_nodes_))
{
}

NodeField ElasticBody::solve(const NodeField& forces) const
{
  std::vector<double> right(3 * steel_nodes_, 0.0);
  for (std::size_t n = 0; n < number_.size(); ++n)
    if (const int m = number_[n]; m >= 0) {
      right[3 * m] = forces[n].x;
      right[3 * m + 1] = forces[n].y;
      right[3 * m + 2] = forces[n].z;
    }
  const auto found = factor_.solve({right}).front();
  NodeField displacements(number_.size());
  for (std::size_t n = 0; n < number_.size(); ++n)
    if (const int m = number_[n]; m >= 0)
      displacements[n] = {found[3 * m], found[3 * m + 1], found[3 * m + 2]};
  return displacements;
}

std::vector<NodeField> ElasticBody::solve(const std::vector<std::vector<NodeForce>>& sets,
                                          const std::vector<int>& nodes) const
{
  constexpr std::size_t together = 32; // right-hand sides per block: enough for level-3 BLAS
  std::vector<NodeField> displacements;
  for (std::size_t first = 0; first < sets.size(); first += together) {
    const std::size_t last = std::min(sets.size(), first + together);
    std::vector<std::vector<double>> right(last - first,
                                           std::vector<double>(3 * steel_nodes_, 0.0));
    for (std::size_t s = first; s < last; ++s)
      for (const auto& f : sets[s]) {
        const int m = number_[f.node];
        right[s - first][3 * m] += f.force.x;
        right[s - first][3 * m + 1] += f.force.y;
        right[s - first][3 * m + 2] += f.force.z;
      }
    for (const auto& found : factor_.solve(right)) {
      NodeField there;
      there.reserve(nodes.size());
      for (const int n : nodes) {
        const int m = number_[n];
        there.push_back(m < 0 ? Vec3{} : Vec3{found[3 * m], found[3 * m + 1], found[3 * m + 2]});
      }
      displacements.push_back(std::move(there));
    }
  }
  return displacements;
}

} // namespace hangtrue::elasticity
