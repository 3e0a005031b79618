// SPDX-License-Identifier: GPL-3.0-or-later
#include "solver/strength/hinge_forces.hpp"

#include "solver/elasticity/assembly.hpp"

#include <algorithm>
#include <cmath>

namespace hangtrue::strength
{

namespace
{

// What one contact point does to one knuckle: by its pin, or by a thrust face.
void add_contact_force(const contact::ContactPair& pair, double contact_force, KnuckleForce& result)
{
  if (pair.hinge != result.hinge || contact_force == 0.0)
    return;
  if (pair.kind == contact::ContactKind::bore) {
    if (pair.knuckle != result.knuckle)
      return;
    const Vec3 force = contact_force * pair.normal;
    const Vec3 moment = cross(pair.place - result.middle, force);
    result.pin_force += force;
    result.pin_moment += moment;
    result.moment += moment;
    result.planes[pair.round].force += force;
    return;
  }
  const bool from_below = pair.knuckle == result.knuckle;
  const bool from_above = pair.knuckle == result.knuckle + 1;
  if (!from_below && !from_above)
    return;
  const double thrust = from_below ? contact_force : -contact_force;
  result.thrust += thrust;
  result.moment += cross(pair.place - result.middle, Vec3{0.0, 0.0, thrust});
}

void add_bearing(const door::Hinge& hinge, KnuckleForce& result)
{
  const double length = hinge.knuckles[result.knuckle].length;
  const Vec3 turning = cross(result.pin_moment, {0.0, 0.0, 1.0}); // N m, along the end forces
  result.greatest_force = norm(result.pin_force);
  result.worst_line_load = 0.0;
  for (const int end : {0, 1}) {
    const double sign = end == 0 ? -1.0 : 1.0;
    result.line_load[end] =
        (1.0 / length) * result.pin_force + (sign * 6.0 / (length * length)) * turning;
    result.worst_line_load = std::max(result.worst_line_load, norm(result.line_load[end]));
    result.greatest_force =
        std::max(result.greatest_force, norm(0.5 * result.pin_force + (sign / length) * turning));
  }
  result.bearing = result.worst_line_load / hinge.pin_diameter;
}

// Turns a vector from the open door's frame into the frame as if closed.
Vec3 turned(const Vec3& v, double angle)
{
  const double c = std::cos(angle);
  const double s = std::sin(angle);
  return {c * v.x - s * v.y, s * v.x + c * v.y, v.z};
}

LeafForces start_leaf(const door::Door& door, int h, door::KnuckleOwner owner, int knuckle,
                      double z)
{
  const door::Hinge& hinge = door.hinges[h];
  const double side = owner == door::KnuckleOwner::door ? 1.0 : -1.0;
  const double edge = owner == door::KnuckleOwner::door ? 0.0 : -door.reveal;
  LeafForces result;
  result.hinge = h;
  result.owner = owner;
  result.knuckle = knuckle;
  result.foot = {edge + side * 0.5 * hinge.leaf.width, door::depth(door), z};
  return result;
}

void add_knuckle(const door::Door& door, const KnuckleForce& knuckle, LeafForces& leaf)
{
  const door::Hinge& hinge = door.hinges[leaf.hinge];
  const double angle = leaf.owner == door::KnuckleOwner::door ? 0.0 : door.swing;
  const Vec3 force = turned(knuckle.pin_force + Vec3{0.0, 0.0, knuckle.thrust}, angle);
  const Vec3 moment = turned(knuckle.moment, angle);
  leaf.force += force;
  leaf.moment += moment + cross(knuckle.middle - leaf.foot, force);
  Vec3 root = leaf.foot;
  if (hinge.kind == door::HingeKind::barrels) {
    const double side = leaf.owner == door::KnuckleOwner::door ? 1.0 : -1.0;
    root.x += side * 0.5 * (hinge.leaf.thickness - hinge.leaf.width);
    root.y += hinge.leaf.thickness;
  }
  leaf.root_bending += moment.z + cross(knuckle.middle - root, force).z;
}

} // namespace

std::vector<KnuckleForce> knuckle_forces(const door::Door& door, const mesh::Mesh& mesh,
                                         const std::vector<contact::ContactPair>& pairs,
                                         const std::vector<double>& contact_force)
{
  std::vector<KnuckleForce> forces;
  for (std::size_t h = 0; h < mesh.hinges.size(); ++h) {
    const door::Hinge& hinge = door.hinges[h];
    for (std::size_t k = 0; k < hinge.knuckles.size(); ++k) {
      KnuckleForce result;
      result.hinge = static_cast<int>(h);
      result.knuckle = static_cast<int>(k);
      result.owner = hinge.knuckles[k].owner;
      const door::AxisPosition axis = mesh.hinges[h].axis;
      result.middle = {axis.x, axis.y,
                       door::knuckle_start(hinge, result.knuckle) + 0.5 * hinge.knuckles[k].length};
      const mesh::Cylinder& bore = mesh.hinges[h].knuckles[k].bore;
      const std::vector<double> lengths = contact::plane_lengths(bore);
      for (std::size_t p = 0; p < bore.z.size(); ++p)
        result.planes.push_back({bore.z[p], lengths[p], {}});
      for (std::size_t p = 0; p < pairs.size(); ++p)
        add_contact_force(pairs[p], contact_force[p], result);
      add_bearing(hinge, result);
      forces.push_back(result);
    }
  }
  return forces;
}

void add_fixed_pin(const door::Door& door, const mesh::Mesh& mesh, const system::DoorSystem& system,
                   const elasticity::NodeField& frame_displacement, KnuckleForce& knuckle)
{
  const door::Hinge& hinge = door.hinges[knuckle.hinge];
  const door::AxisPosition axis = mesh.hinges[knuckle.hinge].axis;
  const elasticity::NodeField inside = elasticity::internal_forces(
      system.spaces[contact::frame_body],
      [&](const mesh::Hex27& cell) {
        return cell.part == mesh::Part::ring && cell.hinge == knuckle.hinge &&
               cell.knuckle == knuckle.knuckle;
      },
      system.of_frame, frame_displacement);
  const double radius = door::pin_radius(hinge);
  for (std::size_t n = 0; n < inside.size(); ++n) {
    const Vec3& p = mesh.frame.nodes[n];
    if (std::abs(std::hypot(p.x - axis.x, p.y - axis.y) - radius) > 1e-7)
      continue;
    const Vec3 across{inside[n].x, inside[n].y, 0.0};
    const Vec3 moment = cross(p - knuckle.middle, across);
    knuckle.pin_force += across;
    knuckle.pin_moment += {moment.x, moment.y, 0.0};
    knuckle.moment += moment;
  }
  add_bearing(hinge, knuckle);
}

std::vector<LeafForces> leaf_forces(const door::Door& door,
                                    const std::vector<KnuckleForce>& knuckles)
{
  std::vector<LeafForces> forces;
  for (std::size_t h = 0; h < door.hinges.size(); ++h)
    for (const door::KnuckleOwner owner : {door::KnuckleOwner::door, door::KnuckleOwner::frame}) {
      const door::Hinge& hinge = door.hinges[h];
      const int index = static_cast<int>(h);
      LeafForces leaf = start_leaf(door, index, owner, -1, hinge.position);
      for (const auto& k : knuckles) {
        if (k.hinge != index || k.owner != owner)
          continue;
        if (hinge.kind == door::HingeKind::barrels) {
          add_knuckle(door, k, leaf);
          continue;
        }
        LeafForces lug = start_leaf(door, index, owner, k.knuckle, k.middle.z);
        add_knuckle(door, k, lug);
        forces.push_back(lug);
      }
      if (hinge.kind == door::HingeKind::barrels)
        forces.push_back(leaf);
    }
  return forces;
}

} // namespace hangtrue::strength
