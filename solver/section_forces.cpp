#include "solver/section_forces.hpp"

#include <algorithm>
#include <cmath>
#include <map>

namespace hangtrue
{

namespace
{

struct Section {
  Vec3 force;
  Vec3 moment;
};

// Sections are told apart by their place along the axis to a tenth of a micrometre.
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
        // Lower face of the layer, and the upper one for the last layer. Half-way, where nodes are
        // pushed as well, what acts on the lower face has its lever, and what leaves through the
        // upper face is the shear from there on.
        const double lower = body.nodes[cell.node[0]].z;
        const double half_way = body.nodes[cell.node[9]].z;
        const double upper = body.nodes[cell.node[18]].z;
        for (const double z : {lower, half_way, upper})
          places[key_of(z)] = z;
        auto& at_lower = sections[key_of(lower)];
        auto& at_half = sections[key_of(half_way)];
        for (int n = 0; n < 9; ++n) {
          const Vec3& p = body.nodes[cell.node[n]];
          at_lower.force += forces[n];
          at_lower.moment += cross(p - Vec3{axis.x, axis.y, lower}, forces[n]);
          at_half.moment += cross(p - Vec3{axis.x, axis.y, half_way}, forces[n]);
          at_half.force += -1.0 * forces[18 + n];
        }
      });
  PinForces made;
  made.hinge = hinge;
  for (const auto& [key, z] : places) {
    const Section& s = sections[key];
    made.z.push_back(z);
    made.shear.push_back(std::hypot(s.force.x, s.force.y));
    made.bending.push_back(std::hypot(s.moment.x, s.moment.y));
  }
  made.greatest_shear = *std::max_element(made.shear.begin(), made.shear.end());
  made.greatest_bending = *std::max_element(made.bending.begin(), made.bending.end());
  return made;
}

} // namespace hangtrue
