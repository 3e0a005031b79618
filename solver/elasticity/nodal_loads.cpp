// SPDX-License-Identifier: GPL-3.0-or-later
#include "solver/elasticity/nodal_loads.hpp"

#include "meshing/sweep/panel_regions.hpp"

#include <deal.II/fe/fe_values.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <utility>
#include <vector>

namespace hangtrue::elasticity
{

Vec3 gravity_direction(const door::Door& door)
{
  const double c = std::cos(door.swing);
  const double s = std::sin(door.swing);
  switch (door.hanging) {
  case door::HingeEdge::side:
    return {0.0, 0.0, -1.0};
  case door::HingeEdge::top: // closed, x points down; opening turns x outwards
    return {c, -s, 0.0};
  case door::HingeEdge::bottom:
    return {-c, s, 0.0};
  }
  return {0.0, 0.0, -1.0};
}

double density_of(const door::Door& door, const mesh::BodyMesh& body, const mesh::Hex27& cell)
{
  if (!fe::is_steel(cell))
    return 0.0; // insulation is carried by the skins, below; air weighs nothing
  const double steel = cell.part == mesh::Part::pin ? door.pin_steel.density : door.steel.density;
  if (cell.part == mesh::Part::strip)
    return door.strip.density;
  const bool outer = cell.part == mesh::Part::outer_skin;
  if (!outer && cell.part != mesh::Part::inner_skin)
    return steel;
  const Vec3& middle = body.nodes[cell.node[13]];
  const double cavity = door::rim_middle(door);
  if (sweep::panel_part(door, middle.x, cavity, middle.z) != mesh::Part::insulation)
    return steel;
  const double t_in = door.panel.inner_skin;
  const double t_out = door.panel.outer_skin;
  const double inner_middle = 0.5 * t_in;
  const double outer_middle = door::depth(door) - 0.5 * t_out;
  const double outer_share = (cavity - inner_middle) / (outer_middle - inner_middle);
  const double per_area = door.insulation.density * (door.rim.depth + door.strip.thickness);
  return steel + per_area * (outer ? outer_share / t_out : (1.0 - outer_share) / t_in);
}

NodeField weight_forces(const door::Door& door, const fe::Discretization& space,
                        const Vec3& direction)
{
  NodeField forces(space.body().nodes.size());
  fe::visit_cells(space, fe::is_steel, [&](const fe::CellValues& at) {
    const Vec3 per_volume = standard_gravity * density_of(door, space.body(), at.cell) * direction;
    for (unsigned i = 0; i < 27; ++i) {
      double volume = 0.0; // m^3, integral of the shape function
      for (unsigned q = 0; q < fe::quadrature_points; ++q)
        volume += at.fe.shape_value(i, q) * at.fe.JxW(q);
      forces[at.node[i]] += volume * per_volume;
    }
  });
  return forces;
}

namespace
{

// One side of a cell on the latch edge: nodes i + 3 j, j along the hinges.
using EdgeFace = std::array<int, 9>;

// What steel shows at the latch edge.
std::vector<EdgeFace> latch_edge(const door::Door& door, const mesh::BodyMesh& body)
{
  constexpr double same_place = 1e-7; // m
  // Node i + 3 j + 9 k of a cell whose first is at these: k runs along the hinges.
  constexpr std::array<std::array<int, 2>, 4> sides{{{0, 3}, {2, 3}, {0, 1}, {6, 1}}};
  std::vector<EdgeFace> faces;
  for (const auto& cell : body.cells) {
    if (!fe::is_steel(cell))
      continue;
    for (const auto& [first, step] : sides) {
      EdgeFace face{};
      for (int k = 0; k < 9; ++k)
        face[k] = cell.node[first + step * (k % 3) + 9 * (k / 3)];
      if (std::all_of(face.begin(), face.end(), [&](int n) {
            return std::abs(body.nodes[n].x - door.panel.width) < same_place;
          }))
        faces.push_back(face);
    }
  }
  return faces;
}

// Quadratic Lagrange polynomials on 0, 1/2, 1.
std::array<double, 3> quadratic(double s)
{
  return {(1.0 - s) * (1.0 - 2.0 * s), 4.0 * s * (1.0 - s), s * (2.0 * s - 1.0)};
}

// What each of three rows from `z` up takes of a load of one per length over a stretch, or of one
// at a place (a stretch of no length); nothing where the stretch passes them by.
std::array<double, 3> row_shares(const door::Span& z, const door::Span& stretch)
{
  const double length = z.to - z.from;
  const auto at = [&](double place) {
    return quadratic(std::clamp((place - z.from) / length, 0.0, 1.0));
  };
  const door::Span both{std::max(z.from, stretch.from), std::min(z.to, stretch.to)};
  if (stretch.from == stretch.to) {
    constexpr double rounding = 1e-12; // of a row's height: neighbours differ by their last digits
    const double off = rounding * (std::abs(z.from) + length);
    return both.from <= both.to + off ? at(stretch.from) : std::array<double, 3>{};
  }
  std::array<double, 3> shares{};
  if (both.to <= both.from)
    return shares;
  // Gauss's three points: exact for these polynomials.
  const double apart = std::sqrt(0.6);
  for (const auto& [place, weight] :
       {std::pair{-apart, 5.0 / 18.0}, {0.0, 8.0 / 18.0}, {apart, 5.0 / 18.0}}) {
    const auto value = at(0.5 * ((1.0 - place) * both.from + (1.0 + place) * both.to));
    for (int j = 0; j < 3; ++j)
      shares[j] += weight * (both.to - both.from) * value[j];
  }
  return shares;
}

} // namespace

NodeField edge_forces(const door::Door& door, const mesh::BodyMesh& body, double position,
                      const Vec3& force)
{
  NodeField forces(body.nodes.size());
  if (norm(force) == 0.0)
    return forces;
  const std::vector<EdgeFace> faces = latch_edge(door, body);
  const auto along = [&](const EdgeFace& face) {
    return door::Span{body.nodes[face[0]].z, body.nodes[face[6]].z};
  };
  door::Span edge = along(faces.front());
  for (const auto& face : faces)
    edge = {std::min(edge.from, along(face).from), std::max(edge.to, along(face).to)};
  // Near an end of the edge a hand takes the same length to either side, as far as there is any, so
  // that its middle stays.
  const double reach = std::clamp(std::min(position - edge.from, edge.to - position), 0.0,
                                  0.5 * door.handle.breadth);
  const double middle = std::clamp(position, edge.from, edge.to);
  // Uniform over the length and over the thickness of the door, by the cells' shape functions.
  constexpr std::array<double, 3> simpson{1.0 / 6.0, 4.0 / 6.0, 1.0 / 6.0};
  std::vector<double> share(body.nodes.size(), 0.0);
  double whole = 0.0;
  for (const auto& face : faces) {
    const double thick = std::abs(body.nodes[face[2]].y - body.nodes[face[0]].y);
    const auto rows = row_shares(along(face), {middle - reach, middle + reach});
    for (int k = 0; k < 9; ++k) {
      const double part = thick * simpson[k % 3] * rows[k / 3];
      share[face[k]] += part;
      whole += part;
    }
  }
  for (std::size_t n = 0; n < share.size(); ++n)
    if (share[n] != 0.0)
      forces[n] = (share[n] / whole) * force;
  return forces;
}

Resultant resultant(const mesh::BodyMesh& body, const NodeField& forces, const Vec3& about)
{
  Resultant sum;
  for (std::size_t n = 0; n < forces.size(); ++n) {
    sum.force += forces[n];
    sum.moment += cross(body.nodes[n] - about, forces[n]);
  }
  return sum;
}

} // namespace hangtrue::elasticity
