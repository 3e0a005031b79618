// SPDX-License-Identifier: GPL-3.0-or-later
// Plain blocks of 27-node hexahedra for tests of kernels.
#pragma once

#include "meshing/mesh/mesh.hpp"

#include <vector>

namespace hangtrue::test
{

/// Cell boundaries from 0 to `length`, m, equal in size.
inline std::vector<double> equal_cells(double length, int cells)
{
  std::vector<double> places;
  for (int i = 0; i <= cells; ++i)
    places.push_back(length * i / cells);
  return places;
}

/// A block with these cell boundaries, m.
inline mesh::BodyMesh block(const std::vector<double>& x, const std::vector<double>& y,
                            const std::vector<double>& z)
{
  auto halved = [](const std::vector<double>& p) {
    std::vector<double> fine{p.front()};
    for (std::size_t i = 0; i + 1 < p.size(); ++i) {
      fine.push_back(0.5 * (p[i] + p[i + 1]));
      fine.push_back(p[i + 1]);
    }
    return fine;
  };
  const auto fx = halved(x);
  const auto fy = halved(y);
  const auto fz = halved(z);
  const int nx = static_cast<int>(fx.size());
  const int ny = static_cast<int>(fy.size());
  mesh::BodyMesh mesh;
  mesh.name = "block";
  for (const double c : fz)
    for (const double b : fy)
      for (const double a : fx)
        mesh.nodes.push_back({a, b, c});
  for (std::size_t k = 0; k + 1 < z.size(); ++k)
    for (std::size_t j = 0; j + 1 < y.size(); ++j)
      for (std::size_t i = 0; i + 1 < x.size(); ++i) {
        mesh::Hex27 hex;
        for (int n = 0; n < 27; ++n)
          hex.node[n] =
              static_cast<int>(2 * i) + n % 3 +
              nx * (static_cast<int>(2 * j) + (n / 3) % 3 + ny * (static_cast<int>(2 * k) + n / 9));
        mesh.cells.push_back(hex);
      }
  return mesh;
}

} // namespace hangtrue::test
