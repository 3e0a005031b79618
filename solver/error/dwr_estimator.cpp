// SPDX-License-Identifier: GPL-3.0-or-later
#include "solver/error/dwr_estimator.hpp"

#include "solver/elasticity/gradient_product.hpp"
#include "solver/elasticity/stress.hpp"
#include "solver/fe/congruent_cells.hpp"
#include "solver/fe/tensors.hpp"

#include <Eigen/Dense>
#include <deal.II/fe/fe_values.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <cstdint>
#include <optional>

namespace hangtrue::error
{

namespace
{

// Reference coordinates -1, 0, 1 of the three nodes of a line and the three Gauss points.
const double gauss = std::sqrt(0.6);
const std::array<double, 3> gauss_at{-gauss, 0.0, gauss};

// Node of a cell from its indices along direction d and the two others.
int node_at(int d, int along, int j, int k)
{
  constexpr std::array<int, 3> stride{1, 3, 9};
  return along * stride[d] + j * stride[(d + 1) % 3] + k * stride[(d + 2) % 3];
}

// The cubics of a cell at its Gauss points: not their values, only derivatives by the reference
// directions. Cubic 9 d + j + 3 k runs along direction d over the line j, k of the two others.
struct Cubics {
  std::array<std::array<std::array<double, 3>, 27>, 27> slope{}; // [point][cubic][direction]
};

double line_value(int i, double s)
{
  return i == 0 ? 0.5 * s * (s - 1.0) : i == 1 ? 1.0 - s * s : 0.5 * s * (s + 1.0);
}

double line_slope(int i, double s)
{
  return i == 0 ? s - 0.5 : i == 1 ? -2.0 * s : s + 0.5;
}

Cubics make_cubics()
{
  Cubics result;
  for (int q = 0; q < 27; ++q) {
    const std::array<double, 3> position{gauss_at[q % 3], gauss_at[q / 3 % 3], gauss_at[q / 9]};
    for (int d = 0; d < 3; ++d) {
      const int e = (d + 1) % 3;
      const int f = (d + 2) % 3;
      const double cubic = position[d] * (1.0 - position[d] * position[d]);
      const double steep = 1.0 - 3.0 * position[d] * position[d];
      for (int k = 0; k < 3; ++k)
        for (int j = 0; j < 3; ++j) {
          auto& slope = result.slope[q][9 * d + j + 3 * k];
          slope[d] = steep * line_value(j, position[e]) * line_value(k, position[f]);
          slope[e] = cubic * line_slope(j, position[e]) * line_value(k, position[f]);
          slope[f] = cubic * line_value(j, position[e]) * line_slope(k, position[f]);
        }
    }
  }
  return result;
}

using elasticity::Gradients; // [point][cubic], 1/m

Gradients gradients_in(const fe::CellValues& at)
{
  static const Cubics cubics = make_cubics(); // constant, like any table
  Gradients result{};
  for (unsigned q = 0; q < fe::quadrature_points; ++q) {
    // Of the reference coordinates, which run from -1 to 1 here and from 0 to 1 in deal.II.
    const auto of = 2.0 * dealii::Tensor<2, 3>(at.fe.inverse_jacobian(q));
    for (int c = 0; c < 27; ++c) {
      const auto& s = cubics.slope[q][c];
      result[q][c] = s[0] * of[0] + s[1] * of[1] + s[2] * of[2];
    }
  }
  return result;
}

// Every line of three nodes once; a cubic is oriented so that its first node has the lesser number.
struct Lines {
  std::vector<std::array<int, 27>> of_cell; // per cell (of steel, else zero) and cubic
  std::vector<std::array<signed char, 27>> way;
  int count = 0;
};

Lines find_lines(const mesh::BodyMesh& body)
{
  struct Seen {
    std::uint64_t key;
    int cell;
    int cubic;
  };
  std::vector<Seen> seen;
  Lines result;
  result.of_cell.resize(body.cells.size());
  result.way.resize(body.cells.size());
  for (std::size_t c = 0; c < body.cells.size(); ++c) {
    const mesh::Hex27& cell = body.cells[c];
    if (!fe::is_steel(cell))
      continue;
    for (int i = 0; i < 27; ++i) {
      const int first = cell.node[node_at(i / 9, 0, i % 3, i / 3 % 3)];
      const int middle = cell.node[node_at(i / 9, 1, i % 3, i / 3 % 3)];
      const int last = cell.node[node_at(i / 9, 2, i % 3, i / 3 % 3)];
      result.way[c][i] = first < last ? 1 : -1;
      seen.push_back({(static_cast<std::uint64_t>(middle) << 32U) |
                          static_cast<std::uint64_t>(std::min(first, last)),
                      static_cast<int>(c), i});
    }
  }
  std::sort(seen.begin(), seen.end(), [](const Seen& a, const Seen& b) { return a.key < b.key; });
  for (std::size_t i = 0; i < seen.size(); ++i) {
    if (i > 0 && seen[i].key != seen[i - 1].key)
      ++result.count;
    result.of_cell[seen[i].cell][seen[i].cubic] = result.count;
  }
  ++result.count;
  return result;
}

struct Residuals {
  elasticity::NodeField primal; // per line
  elasticity::NodeField dual;
  std::vector<double> stiffness;
};

// Stress of the primal field of a cell, Pa, less that of its free strain.
std::array<elasticity::Stress, fe::quadrature_points>
primal_stress(const PrimalDualFields& f, const fe::CellValues& at, const elasticity::Elasticity& e)
{
  auto stress = elasticity::stresses(at, e, f.primal);
  if (!f.free_strain.empty()) {
    const auto free = fe::values(at, f.free_strain);
    for (unsigned q = 0; q < fe::quadrature_points; ++q)
      stress[q] -= elasticity::free_strain_stress(e, free[q]);
  }
  return stress;
}

// Adds what the stress of one cell puts on the cubics of its lines.
void add_cell(const PrimalDualFields& f, const Lines& lines, const fe::CellValues& at,
              const Gradients& gradient, const std::array<double, 27>& steep, Residuals& result)
{
  const elasticity::Elasticity e = f.elasticity(at.cell);
  const auto primal = primal_stress(f, at, e);
  const auto dual = elasticity::stresses(at, e, f.dual);
  for (unsigned i = 0; i < 27; ++i) {
    dealii::Tensor<1, 3> r;
    dealii::Tensor<1, 3> z;
    for (unsigned q = 0; q < fe::quadrature_points; ++q) {
      const auto weighted = at.fe.JxW(q) * gradient[q][i];
      r += primal[q] * weighted;
      z += dual[q] * weighted;
    }
    const int line = lines.of_cell[at.index][i];
    const double way = lines.way[at.index][i];
    result.primal[line] += -way * fe::vec3(r);
    result.dual[line] += -way * fe::vec3(z);
    result.stiffness[line] += (e.lambda + 4.0 * e.mu) * steep[i];
  }
}

// Stress of both fields on the cubics, and how stiff each cell makes each line.
Residuals inner_residuals(const PrimalDualFields& f, const Lines& lines,
                          const std::vector<fe::CongruentGroup>& groups)
{
  Residuals result{elasticity::NodeField(lines.count), elasticity::NodeField(lines.count),
                   std::vector<double>(lines.count, 0.0)};
  fe::visit_congruent(
      f.space, groups, [&](const fe::CongruentGroup& group, const fe::CellValues& first) {
        const Gradients gradient = gradients_in(first);
        std::array<double, 27> steep{}; // integrals of the squared derivatives
        for (unsigned q = 0; q < fe::quadrature_points; ++q)
          for (unsigned i = 0; i < 27; ++i)
            steep[i] += first.fe.JxW(q) * gradient[q][i].norm_square();
        for (const std::size_t c : group.members)
          add_cell(f, lines, fe::at_member(first, f.space.body(), c), gradient, steep, result);
      });
  return result;
}

// Faces of a cell: nine nodes, [a + 3 b], and the cubics along its lines of direction a and b.
struct Face {
  std::array<int, 9> node{};
  std::array<int, 6> cubic{}; // three lines along a, then three along b
};

std::array<Face, 6> faces()
{
  std::array<Face, 6> result{};
  for (int d = 0; d < 3; ++d)
    for (int side = 0; side < 2; ++side) {
      Face& face = result[2 * d + side];
      for (int b = 0; b < 3; ++b)
        for (int a = 0; a < 3; ++a)
          face.node[a + 3 * b] = node_at(d, 2 * side, a, b);
      const int e = (d + 1) % 3;
      const int f = (d + 2) % 3;
      for (int b = 0; b < 3; ++b) // along e; its two others are f, d
        face.cubic[b] = 9 * e + b + 3 * (2 * side);
      for (int a = 0; a < 3; ++a) // along f; its two others are d, e
        face.cubic[3 + a] = 9 * f + 2 * side + 3 * a;
    }
  return result;
}

double quarter_area(const mesh::BodyMesh& body, const mesh::Hex27& cell, const Face& face)
{
  auto at = [&](int i) { return body.nodes[cell.node[face.node[i]]]; };
  return 0.125 * norm(cross(at(8) - at(0), at(6) - at(2)));
}

// A face in contact.
struct TouchingFace {
  std::size_t cell = 0;
  const mesh::Hex27* hex = nullptr;
  const Face* face = nullptr;
  double quarter = 0.0; // m^2
};

constexpr std::array<double, 3> simpson{1.0 / 3.0, 4.0 / 3.0, 1.0 / 3.0};

std::vector<TouchingFace> touching_faces(const PrimalDualFields& f)
{
  static const std::array<Face, 6> all = faces(); // constant, like any table
  std::vector<TouchingFace> found;
  for (std::size_t c = 0; c < f.space.body().cells.size(); ++c) {
    const mesh::Hex27& cell = f.space.body().cells[c];
    if (!fe::is_steel(cell))
      continue;
    for (const auto& face : all)
      if (std::all_of(face.node.begin(), face.node.end(),
                      [&](int n) { return f.active[cell.node[n]] != 0; }))
        found.push_back({c, &cell, &face, quarter_area(f.space.body(), cell, face)});
  }
  return found;
}

// Integrals of a pressure, given at the nine nodes of a face in N, on the face's cubics.
std::array<Vec3, 6> on_cubics(const std::array<Vec3, 9>& p)
{
  constexpr std::array<double, 3> along{-2.0 / 15.0, 0.0, 2.0 / 15.0}; // of the cubic, by node
  constexpr std::array<std::array<double, 3>, 3> across{{{4.0 / 15.0, 2.0 / 15.0, -1.0 / 15.0},
                                                         {2.0 / 15.0, 16.0 / 15.0, 2.0 / 15.0},
                                                         {-1.0 / 15.0, 2.0 / 15.0, 4.0 / 15.0}}};
  std::array<Vec3, 6> result{};
  for (int k = 0; k < 3; ++k) // line k along a, then line k along b
    for (int a = 0; a < 3; ++a)
      for (int b = 0; b < 3; ++b) {
        result[k] += (along[a] * across[k][b]) * p[a + 3 * b];
        result[3 + k] += (along[b] * across[k][a]) * p[a + 3 * b];
      }
  return result;
}

// Contact pressure, distributed over the faces in contact so as to match the nodal forces.
void add_contact_forces(const PrimalDualFields& f, const Lines& lines, Residuals& left)
{
  const auto found = touching_faces(f);
  std::vector<double> area(f.space.body().nodes.size(), 0.0);
  for (const auto& t : found)
    for (int i = 0; i < 9; ++i)
      area[t.hex->node[t.face->node[i]]] += t.quarter * simpson[i % 3] * simpson[i / 3];
  const auto add = [&](const TouchingFace& t, const elasticity::NodeField& contact_force,
                       elasticity::NodeField& to) {
    std::array<Vec3, 9> p{};
    for (int i = 0; i < 9; ++i) {
      const int n = t.hex->node[t.face->node[i]];
      p[i] = (t.quarter / area[n]) * contact_force[n];
    }
    const auto result = on_cubics(p);
    for (int k = 0; k < 6; ++k) {
      const int cubic = t.face->cubic[k];
      to[lines.of_cell[t.cell][cubic]] += static_cast<double>(lines.way[t.cell][cubic]) * result[k];
    }
  };
  for (const auto& t : found) {
    add(t, f.primal_contact_force, left.primal);
    add(t, f.dual_contact_force, left.dual);
  }
}

void drop_fixed(const PrimalDualFields& f, const Lines& lines, Residuals& left)
{
  for (std::size_t c = 0; c < f.space.body().cells.size(); ++c) {
    const mesh::Hex27& cell = f.space.body().cells[c];
    if (!fe::is_steel(cell))
      continue;
    for (int i = 0; i < 27; ++i) {
      bool all = true;
      for (int a = 0; a < 3; ++a)
        all = all && f.fixed_dofs[cell.node[node_at(i / 9, a, i % 3, i / 3 % 3)]] != 0;
      if (all) {
        left.primal[lines.of_cell[c][i]] = {};
        left.dual[lines.of_cell[c][i]] = {};
      }
    }
  }
}

using Block = Eigen::Matrix<double, 27, 27>;
using Column = Eigen::Matrix<double, 27, 1>;

// Stiffness of the nine cubics along one direction.
Block stiffness_along(unsigned d, const std::array<double, fe::quadrature_points>& volume,
                      const Gradients& gradient, const elasticity::Elasticity& e)
{
  Block k = Block::Zero();
  for (unsigned b = 0; b < 9; ++b)
    for (unsigned a = b; a < 9; ++a) {
      const auto block = elasticity::stiffness_block(
          elasticity::gradient_product(volume, gradient, 9 * d + a, 9 * d + b), e);
      for (unsigned r = 0; r < 3; ++r)
        for (unsigned c = 0; c < 3; ++c) {
          k(3 * a + r, 3 * b + c) = block[r][c];
          k(3 * b + c, 3 * a + r) = block[r][c];
        }
    }
  return k;
}

// Stiffness of the cubics of a cell over mu, direction by direction, ready to be solved with.
struct CellFactors {
  double ratio = 0.0; // lambda / mu: the same for steel at any temperature
  std::array<Eigen::LLT<Block>, 3> along;
  std::array<double, 27> own{}; // (lambda / mu + 4) times the integral of the squared derivative
};

CellFactors factors_of(const fe::CellValues& at, double ratio)
{
  const Gradients gradient = gradients_in(at);
  const auto volume = fe::volumes(at);
  CellFactors result;
  result.ratio = ratio;
  for (unsigned d = 0; d < 3; ++d) {
    const Block k = stiffness_along(d, volume, gradient, {ratio, 1.0});
    for (unsigned i = 0; i < 9; ++i)
      result.own[9 * d + i] = k.block<3, 3>(3 * i, 3 * i).trace();
    result.along[d].compute(k);
  }
  return result;
}

// The solution of one cell under its part of the residual on its lines.
double error_of_cell(const CellFactors& factors, double mu, const Lines& lines,
                     const Residuals& left, std::size_t c)
{
  double sum = 0.0;
  for (int d = 0; d < 3; ++d) {
    Column real;
    Column dual;
    for (int i = 0; i < 9; ++i) {
      const int line = lines.of_cell[c][9 * d + i];
      const double share =
          lines.way[c][9 * d + i] * mu * factors.own[9 * d + i] / left.stiffness[line];
      const Vec3 r = share * left.primal[line];
      const Vec3 z = share * left.dual[line];
      real.segment<3>(3 * i) << r.x, r.y, r.z;
      dual.segment<3>(3 * i) << z.x, z.y, z.z;
    }
    const auto lower = factors.along[d].matrixL();
    sum += lower.solve(real).dot(lower.solve(dual)); // r^T (L L^T)^-1 z
  }
  return sum / mu;
}

} // namespace

std::vector<double> dual_weighted_error(const PrimalDualFields& fields)
{
  const mesh::BodyMesh& body = fields.space.body();
  const std::vector<fe::CongruentGroup> groups = fe::congruent_cells(body, fe::is_steel);
  const Lines lines = find_lines(body);
  Residuals left = inner_residuals(fields, lines, groups);
  add_contact_forces(fields, lines, left);
  drop_fixed(fields, lines, left);
  std::vector<double> result(body.cells.size(), 0.0);
  fe::visit_congruent(fields.space, groups,
                      [&](const fe::CongruentGroup& group, const fe::CellValues& first) {
                        std::optional<CellFactors> factors;
                        for (const std::size_t c : group.members) {
                          const elasticity::Elasticity e = fields.elasticity(body.cells[c]);
                          const double ratio = e.lambda / e.mu;
                          if (!factors || std::abs(factors->ratio - ratio) > 1e-12 * ratio)
                            factors = factors_of(first, ratio);
                          result[c] = error_of_cell(*factors, e.mu, lines, left, c);
                        }
                      });
  return result;
}

} // namespace hangtrue::error
