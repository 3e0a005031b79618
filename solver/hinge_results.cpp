#include "solver/hinge_results.hpp"

#include <algorithm>
#include <cmath>

namespace hangtrue
{

namespace
{

// Turns a vector of the open door's frame into the frame as if shut.
Vec3 turned(const Vec3& v, double angle)
{
  const double c = std::cos(angle);
  const double s = std::sin(angle);
  return {c * v.x - s * v.y, s * v.x + c * v.y, v.z};
}

struct Push {
  Vec3 force; // N, on the half
  Vec3 place; // m, in the half's own directions
  int knuckle;
};

// All pushes on one half of one hinge. A pin that is fast in the frame is part of it.
std::vector<Push> pushes_on(const Door& door, const HingeMesh& hinge_mesh, int h, Owner owner,
                            const std::vector<ContactPoint>& points,
                            const std::vector<double>& push)
{
  const int body = owner == Owner::door ? door_body : frame_body;
  const double angle = owner == Owner::door ? 0.0 : door.swing;
  const Vec3 axis{hinge_mesh.axis.x, hinge_mesh.axis.y, 0.0};
  std::vector<Push> on;
  for (std::size_t p = 0; p < points.size(); ++p) {
    const auto& point = points[p];
    if (point.hinge != h || push[p] == 0.0)
      continue;
    const bool outer = point.outer.body == body;
    if (!outer && point.inner.body != body)
      continue;
    const Vec3 force = (outer ? push[p] : -push[p]) * point.normal;
    on.push_back({turned(force, angle), axis + turned(point.place - axis, angle), point.knuckle});
  }
  return on;
}

// Bending of the web at its root about the axis direction, per half; or of the most loaded lug.
double root_bending(const Door& door, const Hinge& hinge, const std::vector<Push>& on, double side,
                    double edge)
{
  if (hinge.kind == HingeKind::barrels) {
    const Vec3 root{edge + side * 0.5 * hinge.leaf.thickness, depth(door) + hinge.leaf.thickness,
                    0.0};
    double moment = 0.0;
    for (const auto& p : on)
      moment += cross(p.place - root, p.force).z;
    return std::abs(moment);
  }
  const Vec3 root{edge + side * 0.5 * hinge.leaf.width, depth(door), 0.0};
  std::vector<double> per_lug(hinge.knuckles.size(), 0.0);
  for (const auto& p : on)
    per_lug[p.knuckle] += cross(p.place - root, p.force).z;
  double most = 0.0;
  for (const double m : per_lug)
    most = std::max(most, std::abs(m));
  return most;
}

} // namespace

std::vector<KnuckleForce> knuckle_forces(const Door& door, const Mesh& mesh,
                                         const std::vector<ContactPoint>& points,
                                         const std::vector<double>& push)
{
  std::vector<KnuckleForce> forces;
  for (std::size_t h = 0; h < mesh.hinges.size(); ++h) {
    const Hinge& hinge = door.hinges[h];
    const HingeMesh& hinge_mesh = mesh.hinges[h];
    for (std::size_t k = 0; k < hinge.knuckles.size(); ++k) {
      KnuckleForce made;
      made.hinge = static_cast<int>(h);
      made.knuckle = static_cast<int>(k);
      made.owner = hinge.knuckles[k].owner;
      const double start = knuckle_start(hinge, made.knuckle);
      const Vec3 middle{hinge_mesh.axis.x, hinge_mesh.axis.y,
                        start + 0.5 * hinge.knuckles[k].length};
      for (std::size_t p = 0; p < points.size(); ++p) {
        const auto& point = points[p];
        if (point.hinge != made.hinge || push[p] == 0.0)
          continue;
        if (point.kind == ContactKind::bore && point.knuckle == made.knuckle) {
          const Vec3 force = push[p] * point.normal;
          made.pin_force += force;
          made.pin_moment += cross(point.place - middle, force);
        } else if (point.kind == ContactKind::thrust) {
          if (point.knuckle == made.knuckle)
            made.thrust += push[p];
          if (point.knuckle == made.knuckle + 1)
            made.thrust -= push[p];
        }
      }
      made.bearing = norm(made.pin_force) / (hinge.pin_diameter * hinge.knuckles[k].length);
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
  const double length = hinge.knuckles[knuckle.knuckle].length;
  const Vec3 middle{axis.x, axis.y, knuckle_start(hinge, knuckle.knuckle) + 0.5 * length};
  const double radius = pin_radius(hinge);
  for (std::size_t n = 0; n < inside.size(); ++n) {
    const Vec3& p = mesh.frame.nodes[n];
    if (std::abs(std::hypot(p.x - axis.x, p.y - axis.y) - radius) > 1e-7)
      continue;
    const Vec3 across{inside[n].x, inside[n].y, 0.0};
    knuckle.pin_force += across;
    knuckle.pin_moment += cross(p - middle, across);
  }
  knuckle.bearing = norm(knuckle.pin_force) / (hinge.pin_diameter * length);
}

std::vector<LeafForces> leaf_forces(const Door& door, const Mesh& mesh,
                                    const std::vector<ContactPoint>& points,
                                    const std::vector<double>& push)
{
  std::vector<LeafForces> forces;
  for (std::size_t h = 0; h < mesh.hinges.size(); ++h)
    for (const Owner owner : {Owner::door, Owner::frame}) {
      const Hinge& hinge = door.hinges[h];
      const double side = owner == Owner::door ? 1.0 : -1.0;
      const double edge = owner == Owner::door ? 0.0 : -door.reveal;
      LeafForces made;
      made.hinge = static_cast<int>(h);
      made.owner = owner;
      made.foot = {edge + side * 0.5 * hinge.leaf.width, depth(door), hinge.at};
      const auto on = pushes_on(door, mesh.hinges[h], made.hinge, owner, points, push);
      for (const auto& p : on) {
        made.force += p.force;
        made.moment += cross(p.place - made.foot, p.force);
      }
      made.web_bending = root_bending(door, hinge, on, side, edge);
      forces.push_back(made);
    }
  return forces;
}

} // namespace hangtrue
