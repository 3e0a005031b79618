// SPDX-License-Identifier: GPL-3.0-or-later
#include "solver/analysis/closing_setup.hpp"

#include "meshing/mesh/node_sets.hpp"
#include "meshing/sweep/door_mesher.hpp"
#include "solver/contact/closed_contact_pairs.hpp"
#include "solver/contact/end_float.hpp"
#include "solver/contact/skin_contact.hpp"

namespace hangtrue::analysis
{

double nominal_gasket_gap(const door::Door& closed_door, const door::Gasket& gasket,
                          const contact::GasketPoint& g)
{
  return gasket.set_gap + contact::face_setback(closed_door, g.place) - g.height;
}

LinearizedGasket linearized_gasket(const door::Gasket& gasket, const contact::GasketPoint& g,
                                   double drawn)
{
  const contact::LineLoad law = contact::line_load(gasket, g.squeeze);
  const double shift = law.load > 0.0 ? g.squeeze - law.load / law.slope : 0.0;
  return {drawn + shift, 1.0 / (law.slope * g.length)};
}

std::vector<double> line_temperatures(const mesh::BodyMesh& body,
                                      const std::vector<contact::GasketSegment>& line,
                                      const heat::ThermalState* thermal)
{
  if (thermal == nullptr)
    return std::vector<double>(line.size(), 20.0);
  const contact::SkinFace inner(body, mesh::Part::inner_skin, 0.0);
  std::vector<double> result;
  for (const auto& segment : line) {
    double t = 0.0;
    for (const auto& w : inner.at(segment.place.x, segment.place.z))
      t += w.weight * thermal->temperature[w.node];
    result.push_back(t);
  }
  return result;
}

mesh::Mesh make_closed_mesh(const door::Door& door, int level)
{
  return make_closed_mesh(door, door::RefinementLevel{level, level});
}

namespace
{

door::Door as_closed(door::Door door)
{
  door.swing = 0.0;
  return door;
}

} // namespace

mesh::Mesh make_closed_mesh(const door::Door& door, const door::RefinementLevel& level)
{
  const door::Door closed_door = as_closed(door);
  return sweep::make_mesh(closed_door, door::mesh_density(closed_door, level));
}

std::shared_ptr<const quality::CachedMesh> make_closed_mesh(const door::Door& door,
                                                            const door::RefinementLevel& level,
                                                            quality::MeshCache& cache)
{
  return quality::cached_mesh(as_closed(door), level, cache);
}

ClosedPairs closed_pairs(const door::Door& closed_door, const mesh::Mesh& closed_mesh,
                         const ClosingSetup& closing, const std::vector<contact::GasketPoint>& line)
{
  std::vector<contact::GasketSegment> segments;
  segments.reserve(line.size());
  for (const auto& g : line)
    segments.push_back({g.place, g.arc, g.length});
  ClosedPairs result{contact::contact_pairs(closed_door, closed_mesh), 0};
  auto& pairs = result.pairs;
  contact::add_skin_pairs(closed_door, closed_mesh.door, pairs);
  const contact::ClosedPairOffsets at =
      contact::add_closed_pairs(closed_door, closed_mesh.door, segments, closing.latches, pairs);
  for (std::size_t i = 0; i < line.size(); ++i) {
    const LinearizedGasket law = linearized_gasket(
        closing.gasket, line[i], nominal_gasket_gap(closed_door, closing.gasket, line[i]));
    pairs[at.first_gasket + i].gap = law.gap;
    pairs[at.first_gasket + i].compliance = law.compliance;
  }
  for (std::size_t l = 0; l < closing.latches.size(); ++l)
    pairs[at.first_latch + l].gap = -closing.latches[l].draw;
  for (std::size_t p = at.first_stop; p < pairs.size(); ++p)
    pairs[p].gap = closing.gasket.set_gap + contact::face_setback(closed_door, pairs[p].place);
  result.first_gasket = at.first_gasket;
  return result;
}

ClosingSetup closing_setup(const door::Door& door)
{
  return {door.gasket, door.latches, 0.0, contact::end_floats_of(door)};
}

} // namespace hangtrue::analysis
