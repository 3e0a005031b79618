// SPDX-License-Identifier: GPL-3.0-or-later
#include "solver/strength/hinge_loads.hpp"

#include <algorithm>
#include <cmath>
#include <utility>

namespace hangtrue::strength
{

namespace
{

double tilt_of_pin(const mesh::Cylinder& lower, const mesh::Cylinder& upper,
                   const elasticity::NodeField& displacements)
{
  auto mean = [&](const std::vector<int>& ring) {
    Vec3 sum;
    for (const int n : ring)
      sum += displacements[n];
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
  double maximum = 0.0;
  for (const auto& k : knuckles)
    if (k.hinge == hinge) {
      below += k.pin_force;
      maximum = std::max(maximum, std::hypot(below.x, below.y));
    }
  return maximum;
}

std::vector<PinForces> pin_forces(const mesh::Mesh& mesh, const system::DoorSystem& system,
                                  const std::vector<KnuckleForce>& knuckles,
                                  const elasticity::NodeField& frame_displacement,
                                  const std::vector<elasticity::NodeField>& pin_displacements)
{
  std::vector<PinForces> result;
  for (std::size_t h = 0; h < mesh.hinges.size(); ++h) {
    const mesh::HingeMesh& hinge = mesh.hinges[h];
    const bool floating = hinge.pin_body >= 0;
    const elasticity::NodeField& displacements =
        floating ? pin_displacements[hinge.pin_body] : frame_displacement;
    const int body = floating ? contact::first_pin_body + hinge.pin_body : contact::frame_body;
    PinForces forces = pin_section_forces(system.spaces[body], static_cast<int>(h), hinge.axis,
                                          system.of_frame, displacements);
    std::vector<const mesh::Cylinder*> drawn;
    for (const auto& c : hinge.pin)
      if (!c.node.empty())
        drawn.push_back(&c);
    if (!drawn.empty())
      forces.tilt = tilt_of_pin(*drawn.front(), *drawn.back(), displacements);
    forces.greatest_shear =
        std::max(forces.greatest_shear, shear_between_knuckles(knuckles, static_cast<int>(h)));
    result.push_back(std::move(forces));
  }
  return result;
}

} // namespace

HingeLoads hinge_loads(const door::Door& door, const mesh::Mesh& mesh,
                       const system::DoorSystem& system, const std::vector<double>& contact_force,
                       const elasticity::NodeField& frame_displacement,
                       const std::vector<elasticity::NodeField>& pin_displacements)
{
  HingeLoads result;
  result.knuckles = knuckle_forces(door, mesh, system.pairs, contact_force);
  for (auto& k : result.knuckles)
    if (door.hinges[k.hinge].fixity == door::PinFixity::fixed &&
        k.owner == door::KnuckleOwner::frame)
      add_fixed_pin(door, mesh, system, frame_displacement, k);
  result.leaves = leaf_forces(door, result.knuckles);
  result.pins = pin_forces(mesh, system, result.knuckles, frame_displacement, pin_displacements);
  return result;
}

} // namespace hangtrue::strength
