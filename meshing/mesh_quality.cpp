#include "meshing/mesh_quality.hpp"

#include "meshing/errors.hpp"
#include "meshing/hex27.hpp"
#include "meshing/loft.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <numbers>

namespace hangtrue
{

namespace
{

void measure_body(const BodyMesh& body, MeshQuality& quality)
{
  for (const auto& cell : body.cells) {
    const HexMeasure m = measure(body, cell);
    const auto [least, most] = std::minmax_element(m.jacobian.begin(), m.jacobian.end());
    if (!(*least > 0.0)) {
      const Vec3& at = body.nodes[cell.node[13]];
      throw ComputeError(fmt::format("mesh check: a cell of the {} ({}) is turned inside out near "
                                     "x {:.1f}, y {:.1f}, z {:.1f} "
                                     "mm; look for parts that crowd each other there",
                                     body.name, part_name(cell.part), 1e3 * at.x, 1e3 * at.y,
                                     1e3 * at.z));
    }
    quality.least_jacobian = std::min(quality.least_jacobian, *least);
    quality.worst_ratio = std::min(quality.worst_ratio, *least / *most);
    quality.volume[cell.part] += m.volume;
    ++quality.cells;
  }
  quality.nodes += static_cast<int>(body.nodes.size());
}

// Volumes of the parts that have plain formulas, m^3.
std::map<Part, double> drawn_volumes(const Door& door)
{
  const auto& panel = door.panel;
  const auto& rim = door.rim;
  std::map<Part, double> drawn;
  drawn[Part::outer_skin] = panel.width * panel.height * panel.outer_skin;
  drawn[Part::inner_skin] = panel.width * panel.height * panel.inner_skin;
  const double walls =
      rim.width * rim.depth - (rim.width - 2.0 * rim.wall) * (rim.depth - 2.0 * rim.wall);
  // Mitred: the section swept along its own middle line.
  drawn[Part::rim] = walls * 2.0 * (panel.width + panel.height - 2.0 * rim.width);
  for (const auto& hinge : door.hinges) {
    const double outside = outside_radius(hinge);
    const Span pin{knuckle_start(hinge, 0),
                   knuckle_start(hinge, static_cast<int>(hinge.knuckles.size()) - 1) +
                       hinge.knuckles.back().length};
    drawn[Part::pin] +=
        std::numbers::pi * pin_radius(hinge) * pin_radius(hinge) * (pin.to - pin.from);
    for (const auto& k : hinge.knuckles) {
      const bool fast = hinge.pin == PinHold::fixed && k.owner == Owner::frame;
      const double inside = fast ? pin_radius(hinge) : bore_radius(hinge);
      drawn[Part::ring] += std::numbers::pi * (outside * outside - inside * inside) * k.length;
    }
    if (hinge.kind == HingeKind::barrels)
      drawn[Part::land] += 2.0 * hinge.leaf.width * hinge.leaf.thickness * hinge.leaf.length;
  }
  return drawn;
}

// Area of feet whose nodes are the face's own, m^2.
double joined_area(const BodyMesh& body)
{
  std::vector<char> of_face(body.nodes.size(), 0);
  for (const auto& cell : body.cells)
    if (cell.hinge < 0)
      for (const int n : cell.node)
        of_face[n] = 1;
  double area = 0.0;
  for (const auto& cell : body.cells) {
    if (cell.part != Part::land && cell.part != Part::lug)
      continue;
    // The foot is the side of the cell that the section drew first.
    bool joined = true;
    for (int k = 0; k < 3; ++k)
      for (int i = 0; i < 3; ++i)
        joined = joined && of_face[cell.node[i + 9 * k]] != 0;
    if (!joined)
      continue;
    const auto& a = body.nodes[cell.node[0]];
    area += norm(cross(body.nodes[cell.node[2]] - a, body.nodes[cell.node[18]] - a));
  }
  return area;
}

double drawn_joints(const Door& door, Owner owner)
{
  double area = 0.0;
  for (const auto& hinge : door.hinges) {
    const double width = hinge.leaf.width;
    if (hinge.kind == HingeKind::lugs) {
      for (const auto& k : hinge.knuckles)
        area += k.owner == owner ? width * k.length : 0.0;
      continue;
    }
    const double length = hinge_span(hinge).to - hinge_span(hinge).from;
    const double leg = hinge.weld_leg;
    area += width * length;
    if (hinge.weld == WeldExtent::beads)
      area -= std::max(0.0, width - 2.0 * leg) * std::max(0.0, length - 2.0 * leg);
  }
  return area;
}

} // namespace

std::string part_name(Part part)
{
  switch (part) {
  case Part::outer_skin:
    return "outer skin";
  case Part::inner_skin:
    return "inner skin";
  case Part::rim:
    return "rim";
  case Part::stiffener:
    return "stiffener";
  case Part::insulation:
    return "insulation";
  case Part::land:
    return "land of a leaf";
  case Part::web:
    return "web of a leaf";
  case Part::neck:
    return "neck of a leaf";
  case Part::lug:
    return "lug";
  case Part::ring:
    return "knuckle";
  case Part::pin:
    return "pin";
  case Part::jamb:
    return "jamb";
  case Part::hollow:
    return "hollow";
  case Part::strip:
    return "break strip";
  }
  return "unknown part";
}

MeshQuality inspect(const Mesh& mesh, const Door& door)
{
  // Stations and cuts may be snapped together by 0.2 mm; more than this is a hole or an overlap.
  constexpr double allowed = 0.02;
  MeshQuality quality;
  quality.least_jacobian = 1.0;
  quality.worst_ratio = 1.0;
  measure_body(mesh.door, quality);
  measure_body(mesh.frame, quality);
  for (const auto& pin : mesh.pins)
    measure_body(pin, quality);

  for (const auto& [part, drawn] : drawn_volumes(door)) {
    const double error = std::abs(quality.volume[part] / drawn - 1.0);
    quality.worst_volume = std::max(quality.worst_volume, error);
    if (error > allowed)
      throw ComputeError(fmt::format("mesh check: the {} has {:.1f} cm^3, drawn are {:.1f} cm^3",
                                     part_name(part), 1e6 * quality.volume[part], 1e6 * drawn));
  }
  for (const Owner owner : {Owner::door, Owner::frame}) {
    const double joined = joined_area(owner == Owner::door ? mesh.door : mesh.frame);
    const double drawn = drawn_joints(door, owner);
    const double error = drawn > 0.0 ? std::abs(joined / drawn - 1.0) : 0.0;
    quality.worst_joint = std::max(quality.worst_joint, error);
    // A bead is a few mm wide, so snapping shows more here.
    if (error > 5.0 * allowed)
      throw ComputeError(fmt::format(
          "mesh check: {:.2f} cm^2 of weld join the leaves to the {}, drawn are {:.2f} cm^2",
          1e4 * joined, owner == Owner::door ? "door" : "jamb", 1e4 * drawn));
  }
  return quality;
}

} // namespace hangtrue
