// SPDX-License-Identifier: GPL-3.0-or-later
// One body: a section swept along the grid planes, with one node table (section node, plane).
#pragma once

#include "meshing/mesh/mesh.hpp"
#include "meshing/section/grid_planes.hpp"
#include "meshing/section/section_types.hpp"

#include <functional>
#include <optional>
#include <string>
#include <vector>

namespace hangtrue::sweep
{

/// The part and hinge that a quadrilateral becomes between two grid planes.
struct CellAssignment {
  mesh::Part part = mesh::Part::outer_skin;
  int hinge = -1;
  int knuckle = -1;
};

/// A body and its node numbering: `node[section node][plane]`, -1 where there is no node.
struct SweptBody {
  mesh::BodyMesh body;
  std::vector<double> plane; ///< m, grid planes and the middles between them
  std::vector<std::vector<int>> node;
  section::Section section;
};

/// What becomes of a patch of the section at the height of `middle`, m; nothing where it is empty.
using AssignCell =
    std::function<std::optional<CellAssignment>(const section::SectionPatch&, double middle)>;
/// True where a foot is welded to its face at height z, m.
using IsWelded = std::function<bool(const section::FootNode&, double z)>;

/// Sweeps the section along the grid planes `z`, m; `plan` gives the part of a patch between two
/// grid planes and `is_welded` where a foot shares its nodes with the face.
SweptBody sweep_body(const std::string& name, section::Section section, const section::GridLines& z,
                     const AssignCell& plan, const IsWelded& is_welded);

} // namespace hangtrue::sweep
