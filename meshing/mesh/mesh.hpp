// SPDX-License-Identifier: GPL-3.0-or-later
// The swept mesh: 27-node hexahedra in bodies, with the surfaces where bodies meet.
#pragma once

#include "meshing/common/vec3.hpp"
#include "meshing/door/door.hpp"

#include <array>
#include <string>
#include <vector>

namespace hangtrue::mesh
{

/// The part of the door that a cell belongs to.
enum class Part {
  outer_skin,
  inner_skin,
  rim,
  stiffener,
  insulation,
  land, ///< the part of a leaf that lies on the face
  web,  ///< the part of a leaf that stands up to the barrel
  neck, ///< web to barrel, at a half's own knuckles only
  lug,
  ring, ///< barrel, or the drilled end of a lug
  pin,
  jamb,
  hollow, ///< closed air inside a tube
  strip   ///< board between inner skin and rim
};

/// Name of a part as written into mesh files.
std::string part_name(Part part);

/// Second-order hexahedron; node index i + 3 j + 9 k, i and j in the section, k along the axis.
struct Hex27 {
  std::array<int, 27> node{};
  Part part = Part::outer_skin;
  int hinge = -1;   ///< hinge that it belongs to, -1 for panel and jamb
  int knuckle = -1; ///< knuckle that a ring cell belongs to, else -1
};

/// Two nodes at one point whose sides are not joined there (duplicate nodes): they share their
/// temperature.
struct DuplicateNode {
  int skin = 0;     ///< of the inner skin (of its farther half at a cut)
  int other = 0;    ///< of what lies behind it
  bool cut = false; ///< at the cut of a split skin
};

/// Cells of one connected body: nodes are shared exactly where steel is joined.
struct BodyMesh {
  std::string name;
  std::vector<Vec3> nodes; ///< m
  std::vector<Hex27> cells;
  std::vector<DuplicateNode> twins;
};

/// Nodes of a cylinder about the pin axis: `node[plane][angle]`.
struct Cylinder {
  std::vector<double> z;     ///< m, node planes (ends and middles)
  std::vector<double> angle; ///< rad, node angles about the axis in the door frame, rising
  std::vector<std::vector<int>> node;
};

/// Nodes of an annular face square to the pin axis: `node[circle][angle]`.
struct Annulus {
  double z = 0.0;             ///< m
  std::vector<double> radius; ///< m, node circles, rising
  std::vector<double> angle;  ///< rad, rising
  std::vector<std::vector<int>> node;
};

/// One knuckle in the mesh of its owner.
struct KnuckleMesh {
  door::KnuckleOwner owner = door::KnuckleOwner::frame;
  Cylinder bore; ///< empty when the pin is clamped in it
  Annulus lower; ///< thrust face at its lower end
  Annulus upper; ///< thrust face at its upper end
};

/// One hinge in the mesh.
struct HingeMesh {
  door::AxisPosition axis;
  std::vector<KnuckleMesh> knuckles;
  std::vector<Cylinder> pin; ///< surface of the pin inside each knuckle
  int pin_body = -1;         ///< index into Mesh::pins, -1 when the pin is part of the frame
};

/// Grid lines of the mesh, m, rising; nominal positions are snapped to these.
struct GridPlanes {
  std::vector<double> along;      ///< from z = 0 along the axis
  std::vector<double> over_door;  ///< from the hinge edge over the panel
  std::vector<double> over_frame; ///< from the opening edge over the jamb
};

/// The whole door: the panel with its hinge halves, the frame halves with the jamb, and the pins
/// that float.
struct Mesh {
  BodyMesh door;
  BodyMesh frame;
  std::vector<BodyMesh> pins;
  std::vector<HingeMesh> hinges;
  std::vector<int> held; ///< nodes of the frame that its backing fixes
  double depth = 0.0;    ///< m, of the panel
  GridPlanes stations;
};

} // namespace hangtrue::mesh
