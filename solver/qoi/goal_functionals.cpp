// SPDX-License-Identifier: GPL-3.0-or-later
#include "solver/qoi/goal_functionals.hpp"

#include "solver/elasticity/nodal_loads.hpp"
#include "solver/qoi/straightedge_readings.hpp"

#include <array>

namespace hangtrue::qoi
{

int nearest_node(const mesh::BodyMesh& body, const Vec3& place)
{
  int best = 0;
  for (std::size_t n = 0; n < body.nodes.size(); ++n)
    if (norm(body.nodes[n] - place) < norm(body.nodes[best] - place))
      best = static_cast<int>(n);
  return best;
}

namespace
{

// The forces on a door whose free swing is removed: their work on the swing alone is cancelled at
// the same two corners that define the swing.
void put_swing_back(const door::Door& door, const mesh::Mesh& mesh, elasticity::NodeField& unit)
{
  const double w = door.panel.width;
  const door::AxisPosition axis = door::pin_axis(door, door.hinges.front());
  const std::array<int, 2> latch{nearest_node(mesh.door, {w, mesh.depth, 0.0}),
                                 nearest_node(mesh.door, {w, mesh.depth, door.panel.height})};
  double turning = 0.0;
  for (std::size_t n = 0; n < unit.size(); ++n) {
    const Vec3 r = mesh.door.nodes[n] - Vec3{axis.x, axis.y, 0.0};
    turning += dot(unit[n], Vec3{-r.y, r.x, 0.0});
  }
  for (const int n : latch)
    unit[n].y -= 0.5 * turning / (w - axis.x);
}

} // namespace

double nodal_work(const elasticity::NodeField& forces, const elasticity::NodeField& displacements)
{
  double sum = 0.0;
  for (std::size_t n = 0; n < forces.size(); ++n)
    sum += dot(forces[n], displacements[n]);
  return sum;
}

double GoalFunctional::evaluate(const door::Door& door, const mesh::Mesh& mesh,
                                const elasticity::NodeField& displacements) const
{
  return nodal_work(nodal_forces(door, mesh), displacements);
}

GoalFunctional drop_functional(const system::StateId& state, std::size_t corner)
{
  return {{state, Quantity::drop}, [corner](const door::Door& door, const mesh::Mesh& mesh) {
            elasticity::NodeField unit(mesh.door.nodes.size());
            const double z = corner == 0 ? 0.0 : door.panel.height;
            unit[nearest_node(mesh.door, {door.panel.width, mesh.depth, z})] +=
                elasticity::gravity_direction(door);
            put_swing_back(door, mesh, unit);
            return unit;
          }};
}

GoalFunctional bow_functional(const system::StateId& state)
{
  return {{state, Quantity::bow}, [](const door::Door& door, const mesh::Mesh& mesh) {
            elasticity::NodeField unit = bow_forces(door, mesh.door);
            put_swing_back(door, mesh, unit);
            return unit;
          }};
}

elasticity::NodeField bow_forces(const door::Door& door, const mesh::BodyMesh& body)
{
  elasticity::NodeField forces(body.nodes.size());
  for (const auto& w : middle_against_corners(door, body))
    forces[w.node].y += w.weight;
  return forces;
}

} // namespace hangtrue::qoi
