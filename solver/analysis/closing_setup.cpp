#include "solver/analysis/closing_setup.hpp"

#include "meshing/mesh/node_sets.hpp"
#include "meshing/sweep/door_mesher.hpp"
#include "solver/contact/closed_contact_pairs.hpp"
#include "solver/contact/end_float.hpp"
#include "solver/contact/skin_contact.hpp"

namespace hangtrue
{

double drawn_gasket_gap(const Door& shut_door, const Gasket& gasket, const GasketAt& g)
{
  return gasket.set_gap + stands_back(shut_door, g.place) - g.height;
}

LinearizedGasket linearized_gasket(const Gasket& gasket, const GasketAt& g, double drawn)
{
  const LineLoad law = line_load(gasket, g.squeeze);
  const double shift = law.load > 0.0 ? g.squeeze - law.load / law.slope : 0.0;
  return {drawn + shift, 1.0 / (law.slope * g.length)};
}

std::vector<double> line_temperatures(const BodyMesh& body, const std::vector<GasketPiece>& line,
                                      const WarmDoor* warm)
{
  if (warm == nullptr)
    return std::vector<double>(line.size(), 20.0);
  const SkinFace inner(body, Part::inner_skin, 0.0);
  std::vector<double> made;
  for (const auto& piece : line) {
    double t = 0.0;
    for (const auto& w : inner.at(piece.place.x, piece.place.z))
      t += w.weight * warm->at[w.node];
    made.push_back(t);
  }
  return made;
}

Mesh shut_mesh(const Door& door, int level)
{
  return shut_mesh(door, Levels{level, level});
}

namespace
{

Door stood_shut(Door door)
{
  door.swing = 0.0;
  return door;
}

} // namespace

Mesh shut_mesh(const Door& door, const Levels& levels)
{
  const Door shut = stood_shut(door);
  return loft(shut, fineness(shut, levels));
}

std::shared_ptr<const KeptMesh> shut_mesh(const Door& door, const Levels& levels, KeptMeshes& kept)
{
  return mesh_of(stood_shut(door), levels, kept);
}

ShutContacts shut_contacts(const Door& shut_door, const Mesh& shut, const Closing& closing,
                           const std::vector<GasketAt>& line)
{
  std::vector<GasketPiece> pieces;
  pieces.reserve(line.size());
  for (const auto& g : line)
    pieces.push_back({g.place, g.arc, g.length});
  ShutContacts made{contact_points(shut_door, shut), 0};
  auto& points = made.points;
  add_skin_points(shut_door, shut.door, points);
  const ShutPoints at = add_shut_points(shut_door, shut.door, pieces, closing.latches, points);
  for (std::size_t i = 0; i < line.size(); ++i) {
    const LinearizedGasket law = linearized_gasket(
        closing.gasket, line[i], drawn_gasket_gap(shut_door, closing.gasket, line[i]));
    points[at.first_gasket + i].gap = law.gap;
    points[at.first_gasket + i].compliance = law.compliance;
  }
  for (std::size_t l = 0; l < closing.latches.size(); ++l)
    points[at.first_latch + l].gap = -closing.latches[l].draw;
  for (std::size_t p = at.first_stop; p < points.size(); ++p)
    points[p].gap = closing.gasket.set_gap + stands_back(shut_door, points[p].place);
  made.first_gasket = at.first_gasket;
  return made;
}

Closing closing_of(const Door& door)
{
  return {door.gasket, door.latches, 0.0, floats_of(door)};
}

} // namespace hangtrue
