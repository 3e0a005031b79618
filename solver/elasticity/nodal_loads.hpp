// SPDX-License-Identifier: GPL-3.0-or-later
// Weight and handle load as nodal forces.
#pragma once

#include "meshing/common/vec3.hpp"
#include "meshing/door/door.hpp"
#include "meshing/mesh/mesh.hpp"
#include "solver/elasticity/elastic_body.hpp"

namespace hangtrue::elasticity
{

/// Standard acceleration of free fall, m/s^2 (ISO 80000-3; CGPM 1901).
inline constexpr double standard_gravity = 9.80665;

/// Unit vector of gravity in the door frame at the door's swing angle.
Vec3 gravity_direction(const door::Door& door);

/// Density of a cell, kg/m^3. The mass of the insulation is put on the two skins that it lies
/// between, divided by the lever rule, so that its weight and centre stay where they are.
double density_of(const door::Door& door, const mesh::BodyMesh& body, const mesh::Hex27& cell);

/// Nodal forces of the weight of a body along `direction`, N.
NodeField weight_forces(const door::Door& door, const fe::Discretization& space,
                        const Vec3& direction);

/// Nodal forces, N, of `force` distributed uniformly over the thickness of the latch edge and over
/// the breadth of the hand round `at` (m from z = 0), with exactly that resultant height: the
/// consistent forces of the cells' shape functions.
NodeField edge_forces(const door::Door& door, const mesh::BodyMesh& body, double position,
                      const Vec3& force);

/// Resultant of nodal forces about a point.
struct Resultant {
  Vec3 force;  ///< N
  Vec3 moment; ///< N m
};
/// Force, N, and moment, N m, of nodal forces about a point, m.
Resultant resultant(const mesh::BodyMesh& body, const NodeField& forces, const Vec3& about);

} // namespace hangtrue::elasticity
