// SPDX-License-Identifier: GPL-3.0-or-later
#include "meshing/quality/mesh_quality.hpp"

#include "meshing/common/errors.hpp"
#include "meshing/mesh/hex27_geometry.hpp"
#include "meshing/quality/nominal_volumes.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

namespace hangtrue::quality
{

namespace
{

void measure_body(const mesh::BodyMesh& body, MeshQuality& quality)
{
  for (const auto& cell : body.cells) {
    const mesh::HexMeasure m = mesh::measure(body, cell);
    const auto [least, most] = std::minmax_element(m.jacobian.begin(), m.jacobian.end());
    if (!(*least > 0.0)) {
      const Vec3& position = body.nodes[cell.node[13]];
      throw ComputeError(fmt::format("mesh check: a cell of the {} ({}) is turned inside out near "
                                     "x {:.1f}, y {:.1f}, z {:.1f} "
                                     "mm; look for parts that crowd each other there",
                                     body.name, mesh::part_name(cell.part), 1e3 * position.x,
                                     1e3 * position.y, 1e3 * position.z));
    }
    quality.min_jacobian = std::min(quality.min_jacobian, *least);
    quality.worst_ratio = std::min(quality.worst_ratio, *least / *most);
    quality.volume[cell.part] += m.volume;
    ++quality.cells;
  }
  quality.nodes += static_cast<int>(body.nodes.size());
}

// Area of feet whose nodes are the face's own, m^2.
double joined_area(const mesh::BodyMesh& body)
{
  std::vector<char> of_face(body.nodes.size(), 0);
  for (const auto& cell : body.cells)
    if (cell.hinge < 0)
      for (const int n : cell.node)
        of_face[n] = 1;
  double area = 0.0;
  for (const auto& cell : body.cells) {
    if (cell.part != mesh::Part::land && cell.part != mesh::Part::lug)
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

double relative(double meshed, double drawn)
{
  return drawn > 0.0 ? std::abs(meshed / drawn - 1.0) : 0.0;
}

// Grid planes and cuts may be snapped together by 0.2 mm, which the lists of grid planes contain.
// Arcs approximated by parabolas are off by less than 1e-4 (phi^4 / 30, phi half the angle of a
// cell, 12 round the pin); any larger difference is a hole or an overlap.
constexpr double allowed = 1e-3;

void compare_volumes(const mesh::Mesh& mesh, const door::Door& door, MeshQuality& quality)
{
  const auto drawn = part_volumes(door, {});
  for (const auto& [part, wanted] : part_volumes(door, mesh.stations)) {
    const double meshed = quality.volume[part];
    quality.worst_volume = std::max(quality.worst_volume, relative(meshed, drawn.at(part)));
    if (relative(meshed, wanted) > allowed)
      throw ComputeError(fmt::format("mesh check: the {} has {:.1f} cm^3, drawn are {:.1f} cm^3",
                                     mesh::part_name(part), 1e6 * meshed, 1e6 * wanted));
  }
}

void compare_joints(const mesh::Mesh& mesh, const door::Door& door, MeshQuality& quality)
{
  for (const door::KnuckleOwner owner : {door::KnuckleOwner::door, door::KnuckleOwner::frame}) {
    const double joined = joined_area(owner == door::KnuckleOwner::door ? mesh.door : mesh.frame);
    quality.worst_joint =
        std::max(quality.worst_joint, relative(joined, weld_area(door, owner, {})));
    const double target = weld_area(door, owner, mesh.stations);
    if (relative(joined, target) > allowed)
      throw ComputeError(fmt::format(
          "mesh check: {:.2f} cm^2 of weld join the leaves to the {}, drawn are {:.2f} cm^2",
          1e4 * joined, owner == door::KnuckleOwner::door ? "door" : "jamb", 1e4 * target));
  }
}

} // namespace

MeshQuality inspect(const mesh::Mesh& mesh, const door::Door& door)
{
  MeshQuality quality;
  quality.min_jacobian = 1.0;
  quality.worst_ratio = 1.0;
  measure_body(mesh.door, quality);
  measure_body(mesh.frame, quality);
  for (const auto& pin : mesh.pins)
    measure_body(pin, quality);

  compare_volumes(mesh, door, quality);
  compare_joints(mesh, door, quality);
  return quality;
}

} // namespace hangtrue::quality
