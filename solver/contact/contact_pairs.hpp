// SPDX-License-Identifier: GPL-3.0-or-later
// Where bodies can touch: pin in bore and thrust faces, as pairs of points with a nominal gap.
#pragma once

#include "meshing/common/vec3.hpp"
#include "meshing/door/door.hpp"
#include "meshing/mesh/mesh.hpp"

#include <string>
#include <vector>

namespace hangtrue::contact
{

/// Bodies by index: 0 the door, 1 the frame, 2 and on the floating pins; -1 for rigid ground.
enum : int { ground = -1, door_body = 0, frame_body = 1, first_pin_body = 2 };

/// The mesh of a body by its index.
const mesh::BodyMesh& body_mesh(const mesh::Mesh& mesh, int body);

/// A point on a body as a mean of nodes whose weights reproduce every rigid displacement exactly.
struct NodeWeight {
  int node = 0;
  double weight = 1.0;
};
/// One side of a pair: a body, and nodes with their weights.
struct ContactSide {
  int body = door_body;
  std::vector<NodeWeight> nodes;
};

/// What meets at a pair.
enum class ContactKind {
  bore,   ///< pin against bore, across the axis
  thrust, ///< knuckle against its neighbour, along the axis
  skin,   ///< a loose inner skin against the rim, or against what prevents it from lifting
  gasket, ///< a length of gasket against the frame face
  latch,
  stop ///< steel on steel of door and frame face
};

/// Hinge and knuckle of a pair that belongs to none.
constexpr int not_at_hinge = -1;

/// One contact pair: `contact_force` on the outer side acts along `normal`, on the inner side
/// against it. The gap is `gap` + normal . (outer displacement - inner displacement), m.
struct ContactPair {
  ContactKind kind = ContactKind::bore;
  int hinge = 0;
  int knuckle = 0;      ///< of the bore; of the upper knuckle for thrust
  int round = 0;        ///< plane along a bore, circle of a thrust face
  double angle = 0.0;   ///< rad, of the place about the pin axis, at a hinge
  int node_before = -1; ///< pair at the node before it on its circle; -1 for a pair at a node
  int step = 0;         ///< of a pair between nodes, on its circle (solver/contact/contact_circles)
  Vec3 place;           ///< m
  Vec3 normal;
  double gap = 0.0;        ///< m, nominal: pins centred, weight-carrying thrust faces touching
  double compliance = 0.0; ///< m/N, of what lies between the two sides itself
  double circle_compliance =
      0.0; ///< m/N, by which a force opens all pairs of its circle: a bore that wears
  ContactSide outer;
  ContactSide inner;
};

/// An active contact at a hinge in a solution.
struct ActiveContact {
  ContactKind kind = ContactKind::bore;
  int hinge = 0;
  int knuckle = 0; ///< as of a contact point
  Vec3 place;      ///< m
};

/// True in a bore or on a thrust face.
bool at_hinge(const ContactPair& pair);

/// True for a pair between two nodes of its circle.
bool is_intermediate(const ContactPair& pair);

/// Weights of three neighbouring nodes of a circle for the point at `angle`, rad: they reproduce 1,
/// cos and sin, so a rigid displacement of the circle displaces the point rigidly.
std::vector<NodeWeight> on_circle(const std::vector<double>& angles, const std::vector<int>& nodes,
                                  double angle);

/// True for two pairs on the same plane of a bore or circle of a thrust face.
bool on_one_circle(const ContactPair& a, const ContactPair& b);

/// Length, m, of a knuckle that each node plane of its bore represents: Simpson's weights of its
/// cells.
std::vector<double> plane_lengths(const mesh::Cylinder& bore);

/// Nominal gap, m, between two thrust faces, by whose knuckle is the upper one: the weight rests
/// where a door knuckle lies on a frame knuckle.
double thrust_gap(const door::Hinge& hinge, door::KnuckleOwner upper);

/// All pairs of a mesh; `door` gives clearance, end float and which hinge carries the weight.
std::vector<ContactPair> contact_pairs(const door::Door& door, const mesh::Mesh& mesh);

/// A contact pair in words: "in the bore of hinge 1, knuckle 2", "at the gasket, 0.25 m from the
/// hinge edge and 0.10 m up".
std::string pair_label(const ContactPair& pair);

} // namespace hangtrue::contact
