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
        // Lower face of the layer, and the upper one for the last layer.
        for (const int face : {0, 18}) {
          const double z = body.nodes[cell.node[face]].z;
          const long key = key_of(z);
          places[key] = z;
          if (face == 18)
            continue;
          auto& section = sections[key];
          for (int n = face; n < face + 9; ++n) {
            const Vec3& p = body.nodes[cell.node[n]];
            section.force += forces[n];
            section.moment += cross(p - Vec3{axis.x, axis.y, z}, forces[n]);
          }
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
