// SPDX-License-Identifier: GPL-3.0-or-later
// Shape functions of a body's cells at their quadrature points, from those of deal.II.
#pragma once

#include "meshing/common/vec3.hpp"
#include "meshing/mesh/mesh.hpp"

#include <array>
#include <functional>

namespace hangtrue::fe
{

/// One cell at the 27 points of the 3 x 3 x 3 Gauss rule; node order as in Hex.
struct CellShape {
  std::array<double, 27> volume{};                ///< m^3, Jacobian times weight
  std::array<std::array<double, 27>, 27> value{}; ///< [point][node]
  std::array<std::array<Vec3, 27>, 27> slope{}; ///< 1/m, [point][node], gradients in the door frame
};

/// Integral over a cell of g_a g_b^T, m: g are gradients, 1/m, [point][function], as those of the
/// nodes. By columns: entry (r, c) at r + 3 c.
inline std::array<double, 9> gradient_product(const std::array<double, 27>& volume,
                                              const std::array<std::array<Vec3, 27>, 27>& gradient,
                                              int a, int b)
{
  std::array<double, 9> g{};
  for (int q = 0; q < 27; ++q) {
    const Vec3& ga = gradient[q][a];
    const Vec3 gb = volume[q] * gradient[q][b];
    g[0] += ga.x * gb.x;
    g[1] += ga.y * gb.x;
    g[2] += ga.z * gb.x;
    g[3] += ga.x * gb.y;
    g[4] += ga.y * gb.y;
    g[5] += ga.z * gb.y;
    g[6] += ga.x * gb.z;
    g[7] += ga.y * gb.z;
    g[8] += ga.z * gb.z;
  }
  return g;
}

/// True for the requested cells.
using CellPredicate = std::function<bool(const mesh::Hex27&)>;
/// Called with a cell and its shape.
using CellVisitor = std::function<void(const mesh::Hex27&, const CellShape&)>;

/// True for steel: every cell that can carry load.
bool is_steel(const mesh::Hex27& cell);

/// Calls `visit` for every selected cell of the body in turn, isoparametric (triquadratic).
/// Throws ComputeError at a cell that is turned inside out.
void visit_cells(const mesh::BodyMesh& body, const CellPredicate& include,
                 const CellVisitor& visit);

} // namespace hangtrue::fe
