// SPDX-License-Identifier: GPL-3.0-or-later
// Heat problems on blocks, for tests of the conduction kernel.
#pragma once

#include "solver/heat/heat_equation.hpp"
#include "tests/support/test_meshes.hpp"

#include <cmath>
#include <functional>

namespace hangtrue::test
{

/// Conductivity, W/(m K), and heat capacity, J/(m^3 K), that do not change.
inline heat::HeatMaterial plain(double k, double rho_c)
{
  return {[k](double) { return k; }, [rho_c](double t) { return rho_c * t; },
          [rho_c](double) { return rho_c; }};
}

/// One material everywhere, no faces, no prescribed temperatures.
inline heat::HeatProblem problem_on(const mesh::BodyMesh& mesh, const heat::HeatMaterial& material)
{
  heat::HeatProblem problem{mesh};
  problem.conducts = [](const mesh::Hex27&) { return true; };
  problem.materials = {material};
  problem.material_of = [](const mesh::Hex27&) { return 0; };
  return problem;
}

/// Prescribes a temperature, degC, over time, s, on the plane at `x`, m.
inline void keep_plane(heat::HeatProblem& problem, double x,
                       const std::function<double(double)>& temperature)
{
  const auto& nodes = problem.space.body().nodes;
  for (std::size_t n = 0; n < nodes.size(); ++n)
    if (std::abs(nodes[n].x - x) < 1e-9)
      problem.prescribed.push_back({static_cast<int>(n), temperature});
}

/// Kinds: 0 the side at x = 0, 1 the side at x = length, none elsewhere.
inline void ends_as_faces(heat::HeatProblem& problem, double length)
{
  problem.faces = heat::outer_faces(problem.space, problem.conducts,
                                    [length](const mesh::Hex27&, const Vec3& middle, const Vec3&) {
                                      if (std::abs(middle.x) < 1e-9)
                                        return 0;
                                      return std::abs(middle.x - length) < 1e-9 ? 1 : -1;
                                    });
}

/// A bar along x, 10 x 10 mm.
inline mesh::BodyMesh bar(double length, int cells)
{
  return block(equal_cells(length, cells), {0.0, 0.01}, {0.0, 0.01});
}

} // namespace hangtrue::test
