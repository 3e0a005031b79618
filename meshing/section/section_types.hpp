// SPDX-License-Identifier: GPL-3.0-or-later
// A cross-section cut into patches: what its builders fill and the sweep reads.
#pragma once

#include "meshing/mesh/mesh.hpp"
#include "meshing/section/quad9_mesh.hpp"

#include <vector>

namespace hangtrue::section
{

/// One patch of the section: a cell of the panel (its part depends on the grid plane) or a cell of
/// a hinge or of the jamb.
struct SectionPatch {
  bool panel = false; ///< its part is found from `middle` and the grid plane
  mesh::Part part = mesh::Part::outer_skin;
  int hinge = -1;
  PlanePoint middle; ///< m
};

/// A node of a foot and the node of the face that it lies on; welded or not, by grid plane.
struct FootNode {
  int foot = 0;
  int face = 0;
  int hinge = 0;
};

/// Patches, their mesh (a quadrilateral's label is its patch) and where feet meet the face.
struct Section {
  std::vector<SectionPatch> patches;
  PlaneMesh mesh;
  std::vector<FootNode> feet;
};

} // namespace hangtrue::section
