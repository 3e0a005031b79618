// SPDX-License-Identifier: GPL-3.0-or-later
// Quantities of interest as linear functionals of the door's displacements: the nodal forces whose
// work is the quantity. Errors, contributions and sensitivities all solve for these forces.
#pragma once

#include "meshing/door/door.hpp"
#include "meshing/mesh/mesh.hpp"
#include "solver/elasticity/elastic_body.hpp"
#include "solver/qoi/qoi_id.hpp"

#include <cstddef>
#include <functional>

namespace hangtrue::qoi
{

/// A quantity of interest of the open door that is linear in its displacements.
struct GoalFunctional {
  QoiId id;
  /// N per N, at the nodes of Mesh::door, or of any door with nodes of its own.
  std::function<elasticity::NodeField(const door::Door&, const mesh::Mesh&)> nodal_forces;

  /// The quantity, m, of displacements, m, of the nodes of Mesh::door.
  [[nodiscard]] double evaluate(const door::Door& door, const mesh::Mesh& mesh,
                                const elasticity::NodeField& displacements) const;
};

/// Work, N m, of nodal forces, N, on displacements, m.
double nodal_work(const elasticity::NodeField& forces, const elasticity::NodeField& displacements);

/// The door's node that is nearest to a place, m.
int nearest_node(const mesh::BodyMesh& body, const Vec3& place);

/// Drop of a latch corner (0 lower, 1 upper) once the free swing is removed so that the latch edge
/// stays at its angle.
GoalFunctional drop_functional(const system::StateId& state, std::size_t corner);

/// How far the middle of the outer skin is outwards of its corners, as BowReadings::outer_corners,
/// the free swing removed likewise.
GoalFunctional bow_functional(const system::StateId& state);

/// The forces of the bow, N per N, on a door that swings free, whose swing is left as it is: for
/// bodies without their hinges.
elasticity::NodeField bow_forces(const door::Door& door, const mesh::BodyMesh& body);

} // namespace hangtrue::qoi
