#include "solver/strength/pin_section_forces.hpp"

#include <algorithm>
#include <cmath>
#include <map>

namespace hangtrue
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

PinForces pin_section_forces(const BodyMesh& body, int hinge, const AxisPlace& axis,
                             const ElasticityOf& elasticity_of, const NodeField& moves)
{
  std::map<long, Section> sections;
  std::map<long, double> places;
  visit_cells(
      body, [hinge](const Hex& cell) { return cell.part == Part::pin && cell.hinge == hinge; },
      [&](const Hex& cell, const CellShape& shape) {
        const auto forces = cell_forces(shape, stresses(cell, shape, elasticity_of(cell), moves));
        // Half-way, where nodes have contact forces as well, what acts on either face has its lever
        // arm, and what leaves through the upper face is the shear from there on. A pin that is
        // clamped in a knuckle transfers its moment by shear along it, so just outside it has more
        // than just inside.
        const double lower = body.nodes[cell.node[0]].z;
        const double half_way = body.nodes[cell.node[9]].z;
        const double upper = body.nodes[cell.node[18]].z;
        for (const double z : {lower, half_way, upper})
          places[key_of(z)] = z;
        auto& at_lower = sections[key_of(lower)];
        auto& at_half = sections[key_of(half_way)];
        auto& at_upper = sections[key_of(upper)];
        const auto lever = [&](int n, double z) {
          return cross(body.nodes[cell.node[n]] - Vec3{axis.x, axis.y, z}, forces[n]);
        };
        for (int n = 0; n < 9; ++n) {
          at_lower.force += forces[n];
          at_lower.above += lever(n, lower);
          at_half.below += lever(n, half_way);
          at_half.above += lever(18 + n, half_way);
          at_half.force += -1.0 * forces[18 + n];
          at_upper.below += lever(18 + n, upper);
        }
      });
  PinForces made;
  made.hinge = hinge;
  for (const auto& [key, z] : places) {
    const Section& s = sections[key];
    made.z.push_back(z);
    made.shear.push_back(std::hypot(s.force.x, s.force.y));
    made.bending.push_back(std::max(across(s.above), across(s.below)));
  }
  made.greatest_shear = *std::max_element(made.shear.begin(), made.shear.end());
  made.greatest_bending = *std::max_element(made.bending.begin(), made.bending.end());
  return made;
}

} // namespace hangtrue
