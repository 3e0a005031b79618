#include "solver/door_loads.hpp"

#include "meshing/panel_parts.hpp"

#include <algorithm>
#include <cmath>
#include <vector>

namespace hangtrue
{

Vec3 gravity_direction(const Door& door)
{
  const double c = std::cos(door.swing);
  const double s = std::sin(door.swing);
  switch (door.hanging) {
  case Hanging::side:
    return {0.0, 0.0, -1.0};
  case Hanging::top: // shut, x points down; opening turns x outwards
    return {c, -s, 0.0};
  case Hanging::bottom:
    return {-c, s, 0.0};
  }
  return {0.0, 0.0, -1.0};
}

double density_of(const Door& door, const BodyMesh& body, const Hex& cell)
{
  if (!is_steel(cell))
    return 0.0; // insulation is carried by the skins, below; air weighs nothing
  const double steel = cell.part == Part::pin ? door.pin_steel.density : door.steel.density;
  if (cell.part == Part::strip)
    return door.strip.density;
  const bool outer = cell.part == Part::outer_skin;
  if (!outer && cell.part != Part::inner_skin)
    return steel;
  const Vec3& middle = body.nodes[cell.node[13]];
  const double cavity = rim_middle(door);
  if (panel_part(door, middle.x, cavity, middle.z) != Part::insulation)
    return steel;
  const double t_in = door.panel.inner_skin;
  const double t_out = door.panel.outer_skin;
  const double inner_middle = 0.5 * t_in;
  const double outer_middle = depth(door) - 0.5 * t_out;
  const double outer_share = (cavity - inner_middle) / (outer_middle - inner_middle);
  const double per_area = door.insulation.density * (door.rim.depth + door.strip.thickness);
  return steel + per_area * (outer ? outer_share / t_out : (1.0 - outer_share) / t_in);
}

NodeField weight_forces(const Door& door, const BodyMesh& body, const Vec3& direction)
{
  NodeField forces(body.nodes.size());
  visit_cells(body, is_steel, [&](const Hex& cell, const CellShape& shape) {
    const Vec3 per_volume = standard_gravity * density_of(door, body, cell) * direction;
    for (int n = 0; n < 27; ++n) {
      double volume = 0.0;
      for (int q = 0; q < 27; ++q)
        volume += shape.value[q][n] * shape.volume[q];
      forces[cell.node[n]] += volume * per_volume;
    }
  });
  return forces;
}

namespace
{

// Nodes of the latch edge's outer face of steel, m.
std::vector<int> latch_edge(const Door& door, const BodyMesh& body)
{
  constexpr double same_place = 1e-7; // m
  std::vector<char> steel(body.nodes.size(), 0);
  for (const auto& cell : body.cells)
    if (is_steel(cell))
      for (const int n : cell.node)
        steel[n] = 1;
  std::vector<int> edge;
  for (std::size_t n = 0; n < body.nodes.size(); ++n)
    if (steel[n] != 0 && std::abs(body.nodes[n].x - door.panel.width) < same_place)
      edge.push_back(static_cast<int>(n));
  return edge;
}

} // namespace

NodeField edge_forces(const Door& door, const BodyMesh& body, double at, const Vec3& force)
{
  NodeField forces(body.nodes.size());
  if (norm(force) == 0.0)
    return forces;
  // A hand's breadth, or the nearest two rows of nodes where the mesh is coarser; one row where the
  // hand is at its height. Rounding decides nothing: heights of a row differ by their last digits.
  constexpr double one_row = 1e-7; // m
  std::vector<int> edge = latch_edge(door, body);
  std::sort(edge.begin(), edge.end(), [&](int a, int b) {
    return std::abs(body.nodes[a].z - at) < std::abs(body.nodes[b].z - at);
  });
  constexpr double hand = 0.05; // m
  double reach = hand;
  bool below = false;
  bool above = false;
  for (const int n : edge) {
    below = below || body.nodes[n].z <= at + one_row;
    above = above || body.nodes[n].z >= at - one_row;
    reach = std::max(hand, std::abs(body.nodes[n].z - at) + one_row);
    if (below && above)
      break;
  }
  std::vector<int> near;
  for (const int n : edge)
    if (std::abs(body.nodes[n].z - at) <= reach)
      near.push_back(n);
  // Weights 1 + s (z - mean), with s such that the resultant is at `at`.
  double mean = 0.0;
  for (const int n : near)
    mean += body.nodes[n].z / static_cast<double>(near.size());
  double spread = 0.0;
  for (const int n : near)
    spread += (body.nodes[n].z - mean) * (body.nodes[n].z - mean);
  const double count = static_cast<double>(near.size());
  const double slope = spread > count * one_row * one_row ? count * (at - mean) / spread : 0.0;
  for (const int n : near)
    forces[n] += ((1.0 + slope * (body.nodes[n].z - mean)) / count) * force;
  return forces;
}

Resultant resultant(const BodyMesh& body, const NodeField& forces, const Vec3& about)
{
  Resultant sum;
  for (std::size_t n = 0; n < forces.size(); ++n) {
    sum.force += forces[n];
    sum.moment += cross(body.nodes[n] - about, forces[n]);
  }
  return sum;
}

} // namespace hangtrue
