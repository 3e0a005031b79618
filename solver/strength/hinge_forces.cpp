#include "solver/strength/hinge_forces.hpp"

#include <algorithm>
#include <cmath>

namespace hangtrue
{

namespace
{

// What one contact point does to one knuckle: by its pin, or by a thrust face.
void add_push(const ContactPoint& point, double push, KnuckleForce& made)
{
  if (point.hinge != made.hinge || push == 0.0)
    return;
  if (point.kind == ContactKind::bore) {
    if (point.knuckle != made.knuckle)
      return;
    const Vec3 force = push * point.normal;
    const Vec3 moment = cross(point.place - made.middle, force);
    made.pin_force += force;
    made.pin_moment += moment;
    made.moment += moment;
    made.planes[point.round].force += force;
    return;
  }
  const bool from_below = point.knuckle == made.knuckle;
  const bool from_above = point.knuckle == made.knuckle + 1;
  if (!from_below && !from_above)
    return;
  const double thrust = from_below ? push : -push;
  made.thrust += thrust;
  made.moment += cross(point.place - made.middle, Vec3{0.0, 0.0, thrust});
}

void add_bearing(const Hinge& hinge, KnuckleForce& made)
{
  const double length = hinge.knuckles[made.knuckle].length;
  const Vec3 turning = cross(made.pin_moment, {0.0, 0.0, 1.0}); // N m, along the end forces
  made.greatest_force = norm(made.pin_force);
  made.worst_line_load = 0.0;
  for (const int end : {0, 1}) {
    const double sign = end == 0 ? -1.0 : 1.0;
    made.line_load[end] =
        (1.0 / length) * made.pin_force + (sign * 6.0 / (length * length)) * turning;
    made.worst_line_load = std::max(made.worst_line_load, norm(made.line_load[end]));
    made.greatest_force =
        std::max(made.greatest_force, norm(0.5 * made.pin_force + (sign / length) * turning));
  }
  made.bearing = made.worst_line_load / hinge.pin_diameter;
}

// Turns a vector from the open door's frame into the frame as if closed.
Vec3 turned(const Vec3& v, double angle)
{
  const double c = std::cos(angle);
  const double s = std::sin(angle);
  return {c * v.x - s * v.y, s * v.x + c * v.y, v.z};
}

LeafForces start_leaf(const Door& door, int h, Owner owner, int knuckle, double z)
{
  const Hinge& hinge = door.hinges[h];
  const double side = owner == Owner::door ? 1.0 : -1.0;
  const double edge = owner == Owner::door ? 0.0 : -door.reveal;
  LeafForces made;
  made.hinge = h;
  made.owner = owner;
  made.knuckle = knuckle;
  made.foot = {edge + side * 0.5 * hinge.leaf.width, depth(door), z};
  return made;
}

void add_knuckle(const Door& door, const KnuckleForce& knuckle, LeafForces& leaf)
{
  const Hinge& hinge = door.hinges[leaf.hinge];
  const double angle = leaf.owner == Owner::door ? 0.0 : door.swing;
  const Vec3 force = turned(knuckle.pin_force + Vec3{0.0, 0.0, knuckle.thrust}, angle);
  const Vec3 moment = turned(knuckle.moment, angle);
  leaf.force += force;
  leaf.moment += moment + cross(knuckle.middle - leaf.foot, force);
  Vec3 root = leaf.foot;
  if (hinge.kind == HingeKind::barrels) {
    const double side = leaf.owner == Owner::door ? 1.0 : -1.0;
    root.x += side * 0.5 * (hinge.leaf.thickness - hinge.leaf.width);
    root.y += hinge.leaf.thickness;
  }
  leaf.root_bending += moment.z + cross(knuckle.middle - root, force).z;
}

} // namespace

std::vector<KnuckleForce> knuckle_forces(const Door& door, const Mesh& mesh,
                                         const std::vector<ContactPoint>& points,
                                         const std::vector<double>& push)
{
  std::vector<KnuckleForce> forces;
  for (std::size_t h = 0; h < mesh.hinges.size(); ++h) {
    const Hinge& hinge = door.hinges[h];
    for (std::size_t k = 0; k < hinge.knuckles.size(); ++k) {
      KnuckleForce made;
      made.hinge = static_cast<int>(h);
      made.knuckle = static_cast<int>(k);
      made.owner = hinge.knuckles[k].owner;
      const AxisPlace axis = mesh.hinges[h].axis;
      made.middle = {axis.x, axis.y,
                     knuckle_start(hinge, made.knuckle) + 0.5 * hinge.knuckles[k].length};
      const Cylinder& bore = mesh.hinges[h].knuckles[k].bore;
      const std::vector<double> lengths = plane_lengths(bore);
      for (std::size_t p = 0; p < bore.z.size(); ++p)
        made.planes.push_back({bore.z[p], lengths[p], {}});
      for (std::size_t p = 0; p < points.size(); ++p)
        add_push(points[p], push[p], made);
      add_bearing(hinge, made);
      forces.push_back(made);
    }
  }
  return forces;
}

void add_fast_pin(const Door& door, const Mesh& mesh, const ElasticityOf& elasticity_of,
                  const NodeField& frame_move, KnuckleForce& knuckle)
{
  const Hinge& hinge = door.hinges[knuckle.hinge];
  const AxisPlace axis = mesh.hinges[knuckle.hinge].axis;
  const NodeField inside = internal_forces(
      mesh.frame,
      [&](const Hex& cell) {
        return cell.part == Part::ring && cell.hinge == knuckle.hinge &&
               cell.knuckle == knuckle.knuckle;
      },
      elasticity_of, frame_move);
  const double radius = pin_radius(hinge);
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

std::vector<LeafForces> leaf_forces(const Door& door, const std::vector<KnuckleForce>& knuckles)
{
  std::vector<LeafForces> forces;
  for (std::size_t h = 0; h < door.hinges.size(); ++h)
    for (const Owner owner : {Owner::door, Owner::frame}) {
      const Hinge& hinge = door.hinges[h];
      const int index = static_cast<int>(h);
      LeafForces leaf = start_leaf(door, index, owner, -1, hinge.at);
      for (const auto& k : knuckles) {
        if (k.hinge != index || k.owner != owner)
          continue;
        if (hinge.kind == HingeKind::barrels) {
          add_knuckle(door, k, leaf);
          continue;
        }
        LeafForces lug = start_leaf(door, index, owner, k.knuckle, k.middle.z);
        add_knuckle(door, k, lug);
        forces.push_back(lug);
      }
      if (hinge.kind == HingeKind::barrels)
        forces.push_back(leaf);
    }
  return forces;
}

} // namespace hangtrue
