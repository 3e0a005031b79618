// SPDX-License-Identifier: GPL-3.0-or-later
// What the contact solution means for knuckles, leaves and pins.
#pragma once

#include "meshing/door/door.hpp"
#include "meshing/mesh/mesh.hpp"
#include "solver/contact/contact_pairs.hpp"
#include "solver/elasticity/elastic_body.hpp"
#include "solver/system/door_system.hpp"

#include <array>
#include <vector>

namespace hangtrue::strength
{

/// Force of the pin at one node plane of a bore.
struct BorePlane {
  double z = 0.0;      ///< m
  double length = 0.0; ///< m of the knuckle that it represents
  Vec3 force;          ///< N, on the knuckle
};

/// Force of pin and neighbours on one knuckle.
///
/// Where along it the pin bears is known to a fraction of a cell only, and at an edge the pressure
/// diverges as cells shrink. So strength takes the line load that is linear along the knuckle and
/// has the same force and the same moment, q = F / l +- 6 (M x e_z) / l^2 at its ends (eccentric
/// bearing of a rigid body, textbook statics): a force at one edge comes out as its mean over a
/// quarter of the knuckle, a couple of edge forces as over a sixth.
struct KnuckleForce {
  int hinge = 0;
  int knuckle = 0;
  door::KnuckleOwner owner = door::KnuckleOwner::frame;
  Vec3 middle;                     ///< m, middle of the knuckle on the axis
  Vec3 pin_force;                  ///< N, from the pin, across the axis
  double thrust = 0.0;             ///< N, from the thrust faces, along z
  Vec3 moment;                     ///< N m, of pin and thrust about `middle`
  double bearing = 0.0;            ///< Pa, worst line load / pin diameter
  Vec3 pin_moment{};               ///< N m, of the pin alone about `middle`
  std::array<Vec3, 2> line_load{}; ///< N/m, at the lower and the upper end
  double worst_line_load = 0.0;    ///< N/m, the greater of both
  double greatest_force = 0.0;     ///< N, of the pin: total, or of the two equivalent ones at its
                                   ///< ends, F / 2 +- (M x e_z) / l
  std::vector<BorePlane> planes{}; ///< of the contact solution; empty where the pin is clamped
};

/// Forces and moments that a leaf, or one lug, transfers through its weld to the face, about the
/// middle of its foot; for the frame in the frame's own directions, as if the door were closed.
struct LeafForces {
  int hinge = 0;
  int knuckle = -1; ///< the lug, or -1 for the leaf of a half
  door::KnuckleOwner owner = door::KnuckleOwner::door;
  Vec3 force;                ///< N, of the knuckles on the face
  Vec3 moment;               ///< N m, about `foot`
  Vec3 foot;                 ///< m, middle of the welded foot
  double root_bending = 0.0; ///< N m, about z at the root of the web, or at the foot of the lug
};

/// Force of pin and neighbours on every knuckle of every hinge.
std::vector<KnuckleForce> knuckle_forces(const door::Door& door, const mesh::Mesh& mesh,
                                         const std::vector<contact::ContactPair>& pairs,
                                         const std::vector<double>& contact_force);

/// Force of a pin that is clamped in a frame knuckle, from the stress of the knuckle at its bore.
void add_fixed_pin(const door::Door& door, const mesh::Mesh& mesh, const system::DoorSystem& system,
                   const elasticity::NodeField& frame_displacement, KnuckleForce& knuckle);

/// Force and moment that each leaf, or each lug, hands to its face, from the forces on its
/// knuckles.
std::vector<LeafForces> leaf_forces(const door::Door& door,
                                    const std::vector<KnuckleForce>& knuckles);

} // namespace hangtrue::strength
