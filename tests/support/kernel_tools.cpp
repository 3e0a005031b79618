// SPDX-License-Identifier: GPL-3.0-or-later
#include "tests/support/kernel_tools.hpp"
#include "solver/elasticity/stress.hpp"
#include "solver/fe/cell_values.hpp"

#include <deal.II/fe/fe_values.h>

#include <algorithm>
#include <array>
#include <cmath>

namespace hangtrue::test
{

namespace
{

constexpr std::array<double, 3> gauss{-0.7745966692414834, 0.0, 0.7745966692414834};
constexpr std::array<double, 3> gauss_weight{5.0 / 9.0, 8.0 / 9.0, 5.0 / 9.0};

// Quadratic through -1, 0, 1 and its derivative.
std::array<double, 3> shape(double s)
{
  return {0.5 * s * (s - 1.0), 1.0 - s * s, 0.5 * s * (s + 1.0)};
}
std::array<double, 3> shape_slope(double s)
{
  return {s - 0.5, -2.0 * s, s + 0.5};
}

// The nine nodes of a face in an order whose normal points outwards (right-handed cells).
std::array<int, 9> face_nodes(const mesh::Hex27& cell, int axis, bool upper)
{
  const std::array<int, 3> step{1, 3, 9};
  const int a = step[(axis + 1) % 3];
  const int b = step[(axis + 2) % 3];
  const int base = upper ? 2 * step[axis] : 0;
  std::array<int, 9> nodes{};
  for (int v = 0; v < 3; ++v)
    for (int u = 0; u < 3; ++u)
      nodes[u + 3 * v] = cell.node[base + (upper ? u * a + v * b : v * a + u * b)];
  return nodes;
}

void load_face(const mesh::BodyMesh& mesh, const std::array<int, 9>& face, const Traction& traction,
               elasticity::NodeField& load)
{
  for (int qv = 0; qv < 3; ++qv)
    for (int qu = 0; qu < 3; ++qu) {
      const auto nu = shape(gauss[qu]);
      const auto nv = shape(gauss[qv]);
      const auto du = shape_slope(gauss[qu]);
      const auto dv = shape_slope(gauss[qv]);
      Vec3 place;
      Vec3 along_u;
      Vec3 along_v;
      for (int v = 0; v < 3; ++v)
        for (int u = 0; u < 3; ++u) {
          const Vec3& p = mesh.nodes[face[u + 3 * v]];
          place += nu[u] * nv[v] * p;
          along_u += du[u] * nv[v] * p;
          along_v += nu[u] * dv[v] * p;
        }
      const Vec3 normal = cross(along_u, along_v);
      const double area = norm(normal);
      const Vec3 t = traction(place, (1.0 / area) * normal);
      for (int v = 0; v < 3; ++v)
        for (int u = 0; u < 3; ++u)
          load[face[u + 3 * v]] += gauss_weight[qu] * gauss_weight[qv] * area * nu[u] * nv[v] * t;
    }
}

// Weight of Gauss point at `s` in the quadratic through the Gauss points, taken at `end`.
double carried_on(double s, double end)
{
  double weight = 1.0;
  for (const double other : gauss)
    if (std::abs(other - s) > 1e-6)
      weight *= (end - other) / (s - other);
  return weight;
}

} // namespace

void add_traction(const mesh::BodyMesh& mesh, const OnSurface& on, const Traction& traction,
                  elasticity::NodeField& load)
{
  for (const auto& cell : mesh.cells)
    for (int axis = 0; axis < 3; ++axis)
      for (const bool upper : {false, true}) {
        const auto face = face_nodes(cell, axis, upper);
        if (std::all_of(face.begin(), face.end(), [&](int n) { return on(mesh.nodes[n]); }))
          load_face(mesh, face, traction, load);
      }
}

elasticity::Stress corner_stress(const mesh::BodyMesh& mesh, std::size_t cell, int i, int j, int k,
                                 const elasticity::Elasticity& e,
                                 const elasticity::NodeField& displacements,
                                 const std::vector<double>& free_strain)
{
  mesh::BodyMesh alone{"cell", mesh.nodes, {mesh.cells[cell]}, {}};
  elasticity::Stress result;
  fe::visit_cells(alone, fe::is_steel, [&](const fe::CellValues& at) {
    const auto stress = elasticity::stresses(at, e, displacements);
    std::array<double, fe::quadrature_points> free{};
    if (!free_strain.empty())
      free = fe::values(at, free_strain);
    for (unsigned q = 0; q < fe::quadrature_points; ++q) {
      const auto place = 2.0 * at.fe.get_quadrature().point(q); // from 0 to 2 in the cell
      const double weight = carried_on(place[0] - 1.0, i - 1.0) *
                            carried_on(place[1] - 1.0, j - 1.0) *
                            carried_on(place[2] - 1.0, k - 1.0);
      result += weight * (stress[q] - elasticity::free_strain_stress(e, free[q]));
    }
  });
  return result;
}

void bend_to(mesh::BodyMesh& mesh, const std::function<Vec3(const Vec3&)>& place)
{
  for (auto& n : mesh.nodes)
    n = place(n);
}

int nearest_node(const mesh::BodyMesh& mesh, const Vec3& place)
{
  int best = 0;
  for (std::size_t n = 0; n < mesh.nodes.size(); ++n)
    if (norm(mesh.nodes[n] - place) < norm(mesh.nodes[best] - place))
      best = static_cast<int>(n);
  return best;
}

void hold(std::vector<elasticity::FixedDof>& fixed, const mesh::BodyMesh& mesh, const OnSurface& on,
          int component)
{
  for (std::size_t n = 0; n < mesh.nodes.size(); ++n)
    if (on(mesh.nodes[n]))
      fixed.push_back({static_cast<int>(n), component});
}

} // namespace hangtrue::test
