// SPDX-License-Identifier: GPL-3.0-or-later
#include "solver/elasticity/elastic_body.hpp"

#include "meshing/common/errors.hpp"
#include "solver/fe/congruent_cells.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <numeric>

namespace hangtrue::elasticity
{

bool same_field(const NodeField& a, const NodeField& b)
{
  return std::equal(a.begin(), a.end(), b.begin(), b.end(), [](const Vec3& x, const Vec3& y) {
    return x.x == y.x && x.y == y.y && x.z == y.z;
  });
}

Elasticity elasticity(double youngs_modulus, double poisson)
{
  return {youngs_modulus * poisson / ((1.0 + poisson) * (1.0 - 2.0 * poisson)),
          youngs_modulus / (2.0 * (1.0 + poisson))};
}

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

using CellMatrix = std::vector<std::array<double, 9>>; // [a + 27 b], columns of each block first

// K_ab = integral of lambda g_a g_b^T + mu g_b g_a^T + mu (g_a . g_b) I, with g the gradients.
CellMatrix cell_stiffness(const fe::CellShape& shape, const Elasticity& e)
{
  CellMatrix k(27 * 27);
  for (int b = 0; b < 27; ++b)
    for (int a = b; a < 27; ++a) {
      const std::array<double, 9> g = fe::gradient_product(shape.volume, shape.slope, a, b);
      const double trace = e.mu * (g[0] + g[4] + g[8]);
      auto& block = k[a + 27 * b];
      auto& turned = k[b + 27 * a];
      for (int r = 0; r < 3; ++r)
        for (int c = 0; c < 3; ++c) {
          const double v = e.lambda * g[r + 3 * c] + e.mu * g[c + 3 * r] + (r == c ? trace : 0.0);
          block[r + 3 * c] = v;
          turned[c + 3 * r] = v;
        }
    }
  return k;
}

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

// Steel of one kind has the same lambda / mu at any temperature.
linear_algebra::BlockMatrix assemble(const mesh::BodyMesh& mesh,
                                     const std::vector<Elasticity>& elasticity,
                                     const std::vector<int>& number, int count)
{
  std::vector<std::array<int, 27>> cells;
  for (const auto& cell : mesh.cells) {
    if (!fe::is_steel(cell))
      continue;
    std::array<int, 27> own{};
    for (int n = 0; n < 27; ++n)
      own[n] = number[cell.node[n]];
    cells.push_back(own);
  }
  linear_algebra::BlockMatrix matrix = linear_algebra::block_pattern(count, cells);
  const auto add = [&](const CellMatrix& k, double mu, const mesh::Hex27& cell) {
    for (int b = 0; b < 27; ++b)
      for (int a = 0; a < 27; ++a)
        if (const int row = number[cell.node[a]], column = number[cell.node[b]]; row >= column) {
          std::array<double, 9> block = k[a + 27 * b];
          for (double& v : block)
            v *= mu;
          linear_algebra::add_block(matrix, row, column, block);
        }
  };
  fe::visit_congruent(mesh, fe::congruent_cells(mesh, fe::is_steel),
                      [&](const fe::CongruentGroup& group, const fe::CellShape& shape) {
                        CellMatrix over_mu;
                        double made_for = -1.0; // no steel has that
                        for (const std::size_t c : group.members) {
                          const double ratio = elasticity[c].lambda / elasticity[c].mu;
                          if (std::abs(ratio - made_for) > 1e-14 * ratio) {
                            over_mu = cell_stiffness(shape, {ratio, 1.0});
                            made_for = ratio;
                          }
                          add(over_mu, elasticity[c].mu, mesh.cells[c]);
                        }
                      });
  return matrix;
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

linear_algebra::BlockMatrix assemble_stiffness(const mesh::BodyMesh& mesh,
                                               const std::vector<Elasticity>& elasticity)
{
  std::vector<int> number(mesh.nodes.size());
  std::iota(number.begin(), number.end(), 0);
  return assemble(mesh, elasticity, number, static_cast<int>(mesh.nodes.size()));
}

ElasticBody::ElasticBody(const mesh::BodyMesh& mesh, const CellElasticity& elasticity_of,
                         const std::vector<FixedDof>& fixed)
    : number_(number_steel(mesh, steel_nodes_)),
      factor_(assemble(mesh, by_cell(mesh, elasticity_of), number_, steel_nodes_),
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

std::array<Stress, 27> stresses(const mesh::Hex27& cell, const fe::CellShape& shape,
                                const Elasticity& e, const NodeField& displacements)
{
  std::array<Stress, 27> stress{};
  for (int q = 0; q < 27; ++q) {
    std::array<Vec3, 3> grad{}; // grad[i] = gradient of component i
    for (int n = 0; n < 27; ++n) {
      const Vec3& u = displacements[cell.node[n]];
      const Vec3& g = shape.slope[q][n];
      grad[0] += u.x * g;
      grad[1] += u.y * g;
      grad[2] += u.z * g;
    }
    const double volumetric = e.lambda * (grad[0].x + grad[1].y + grad[2].z);
    stress[q] = {volumetric + 2.0 * e.mu * grad[0].x, volumetric + 2.0 * e.mu * grad[1].y,
                 volumetric + 2.0 * e.mu * grad[2].z, e.mu * (grad[1].z + grad[2].y),
                 e.mu * (grad[0].z + grad[2].x),      e.mu * (grad[0].y + grad[1].x)};
  }
  return stress;
}

std::array<Vec3, 27> cell_forces(const fe::CellShape& shape, const std::array<Stress, 27>& stress)
{
  std::array<Vec3, 27> forces{};
  for (int n = 0; n < 27; ++n)
    for (int q = 0; q < 27; ++q) {
      const Vec3 g = shape.volume[q] * shape.slope[q][n];
      const Stress& s = stress[q];
      forces[n] += {s[0] * g.x + s[5] * g.y + s[4] * g.z, s[5] * g.x + s[1] * g.y + s[3] * g.z,
                    s[4] * g.x + s[3] * g.y + s[2] * g.z};
    }
  return forces;
}

double work_density(const Stress& stress, const mesh::Hex27& cell, const fe::CellShape& shape,
                    int q, const NodeField& displacements)
{
  const Stress& s = stress;
  double density = 0.0;
  for (int n = 0; n < 27; ++n) {
    const Vec3& u = displacements[cell.node[n]];
    const Vec3& g = shape.slope[q][n];
    density += s[0] * u.x * g.x + s[1] * u.y * g.y + s[2] * u.z * g.z +
               s[3] * (u.y * g.z + u.z * g.y) + s[4] * (u.x * g.z + u.z * g.x) +
               s[5] * (u.x * g.y + u.y * g.x);
  }
  return density;
}

NodeField free_strain_forces(const mesh::BodyMesh& mesh, const CellElasticity& elasticity_of,
                             const std::vector<double>& strain)
{
  NodeField forces(mesh.nodes.size());
  fe::visit_cells(mesh, fe::is_steel, [&](const mesh::Hex27& cell, const fe::CellShape& shape) {
    const Elasticity e = elasticity_of(cell);
    for (int q = 0; q < 27; ++q) {
      double here = 0.0;
      for (int n = 0; n < 27; ++n)
        here += shape.value[q][n] * strain[cell.node[n]];
      const double stress = (3.0 * e.lambda + 2.0 * e.mu) * here * shape.volume[q];
      for (int n = 0; n < 27; ++n)
        forces[cell.node[n]] += stress * shape.slope[q][n];
    }
  });
  return forces;
}

NodeField internal_forces(const mesh::BodyMesh& mesh, const fe::CellPredicate& include,
                          const CellElasticity& elasticity_of, const NodeField& displacements)
{
  NodeField forces(mesh.nodes.size());
  fe::visit_cells(mesh, include, [&](const mesh::Hex27& cell, const fe::CellShape& shape) {
    const auto own = cell_forces(shape, stresses(cell, shape, elasticity_of(cell), displacements));
    for (int n = 0; n < 27; ++n)
      forces[cell.node[n]] += own[n];
  });
  return forces;
}

} // namespace hangtrue::elasticity
