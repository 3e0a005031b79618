#include "solver/strength/hinge_loads.hpp"

#include <algorithm>
#include <cmath>
#include <utility>

namespace hangtrue
{

namespace
{

double tilt_of_pin(const Cylinder& lower, const Cylinder& upper, const NodeField& moves)
{
  auto mean = [&](const std::vector<int>& ring) {
    Vec3 sum;
    for (const int n : ring)
      sum += moves[n];
    return (1.0 / static_cast<double>(ring.size())) * sum;
  };
  const Vec3 d = mean(upper.node.back()) - mean(lower.node.front());
  return std::hypot(d.x, d.y) / (upper.z.back() - lower.z.front());
}

// Between two knuckles that press at their facing edges, the pin is sheared over no length, which
// no section along it shows: the sum of the knuckle forces below does.
double shear_between_knuckles(const std::vector<KnuckleForce>& knuckles, int hinge)
{
  Vec3 below;
  double most = 0.0;
  for (const auto& k : knuckles)
    if (k.hinge == hinge) {
      below += k.pin_force;
      most = std::max(most, std::hypot(below.x, below.y));
    }
  return most;
}

std::vector<PinForces> pin_forces(const Mesh& mesh, const ElasticityOf& of,
                                  const std::vector<KnuckleForce>& knuckles,
                                  const NodeField& frame_move,
                                  const std::vector<NodeField>& pin_moves)
{
  std::vector<PinForces> made;
  for (std::size_t h = 0; h < mesh.hinges.size(); ++h) {
    const HingeMesh& hinge = mesh.hinges[h];
    const bool floating = hinge.pin_body >= 0;
    const NodeField& moves = floating ? pin_moves[hinge.pin_body] : frame_move;
    const BodyMesh& body = floating ? mesh.pins[hinge.pin_body] : mesh.frame;
    PinForces forces = pin_section_forces(body, static_cast<int>(h), hinge.axis, of, moves);
    std::vector<const Cylinder*> drawn;
    for (const auto& c : hinge.pin)
      if (!c.node.empty())
        drawn.push_back(&c);
    if (!drawn.empty())
      forces.tilt = tilt_of_pin(*drawn.front(), *drawn.back(), moves);
    forces.greatest_shear =
        std::max(forces.greatest_shear, shear_between_knuckles(knuckles, static_cast<int>(h)));
    made.push_back(std::move(forces));
  }
  return made;
}

} // namespace

HingeLoads hinge_loads(const Door& door, const Mesh& mesh, const Assembly& assembly,
                       const std::vector<double>& push, const NodeField& frame_move,
                       const std::vector<NodeField>& pin_moves)
{
  HingeLoads made;
  made.knuckles = knuckle_forces(door, mesh, assembly.points, push);
  for (auto& k : made.knuckles)
    if (door.hinges[k.hinge].pin == PinHold::fixed && k.owner == Owner::frame)
      add_fast_pin(door, mesh, assembly.of_frame, frame_move, k);
  made.leaves = leaf_forces(door, made.knuckles);
  made.pins = pin_forces(mesh, assembly.of_frame, made.knuckles, frame_move, pin_moves);
  return made;
}

} // namespace hangtrue
