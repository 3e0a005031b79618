// SPDX-License-Identifier: GPL-3.0-or-later
#include "solver/strength/pin_section_forces.hpp"

#include "solver/elasticity/stress.hpp"

#include <algorithm>
#include <cmath>
#include <map>

namespace hangtrue::strength
{

namespace
{

// What a layer puts on a section from above, and what one puts on it from below.
struct Section {
  Vec3 force;
  Vec3 above;
  Vec3 below;
};

double across(const Vec3& moment)
{
  return std::hypot(moment.x, moment.y);
}

// Sections are distinguished by their position along the axis to a tenth of a micrometre.
long key_of(double z)
{
  return std::lround(z * 1e7);
}

} // namespace

PinForces pin_section_forces(const fe::Discretization& space, int hinge,
                             const door::AxisPosition& axis,
                             const elasticity::CellElasticity& elasticity_of,
                             const elasticity::NodeField& displacements)
{
  const mesh::BodyMesh& body = space.body();
  std::map<long, Section> sections;
  std::map<long, double> places;
  fe::visit_cells(
      space,
      [hinge](const mesh::Hex27& cell) {
        return cell.part == mesh::Part::pin && cell.hinge == hinge;
      },
      [&](const fe::CellValues& at) {
        const auto forces = elasticity::cell_forces(
            at, elasticity::stresses(at, elasticity_of(at.cell), displacements));
        // Half-way, where nodes have contact forces as well, what acts on either face has its lever
        // arm, and what leaves through the upper face is the shear from there on. A pin that is
        // clamped in a knuckle transfers its moment by shear along it, so just outside it has more
        // than just inside.
        const double lower = body.nodes[at.cell.node[0]].z;
        const double half_way = body.nodes[at.cell.node[9]].z;
        const double upper = body.nodes[at.cell.node[18]].z;
        for (const double z : {lower, half_way, upper})
          places[key_of(z)] = z;
        auto& at_lower = sections[key_of(lower)];
        auto& at_half = sections[key_of(half_way)];
        auto& at_upper = sections[key_of(upper)];
        for (unsigned i = 0; i < 27; ++i) {
          const auto lever = [&](double z) {
            return cross(body.nodes[at.node[i]] - Vec3{axis.x, axis.y, z}, forces[i]);
          };
          const int layer = fe::node_of_shape_function()[i] / 9; // along the axis
          if (layer == 0) {
            at_lower.force += forces[i];
            at_lower.above += lever(lower);
            at_half.below += lever(half_way);
          } else if (layer == 2) {
            at_half.above += lever(half_way);
            at_half.force += -1.0 * forces[i];
            at_upper.below += lever(upper);
          }
        }
      });
  PinForces result;
  result.hinge = hinge;
  for (const auto& [key, z] : places) {
    const Section& s = sections[key];
    result.z.push_back(z);
    result.shear.push_back(std::hypot(s.force.x, s.force.y));
    result.bending.push_back(std::max(across(s.above), across(s.below)));
  }
  result.greatest_shear = *std::max_element(result.shear.begin(), result.shear.end());
  result.greatest_bending = *std::max_element(result.bending.begin(), result.bending.end());
  return result;
}

} // namespace hangtrue::strength
