// The planar section square to the hinge axis, cut into named patches.
#pragma once

#include "meshing/door/door.hpp"
#include "meshing/mesh/mesh.hpp"
#include "meshing/section/grid_planes.hpp"
#include "meshing/section/quad9_mesh.hpp"
#include "meshing/sweep/door_mesher.hpp"

#include <utility>
#include <vector>

namespace hangtrue
{

/// One patch of the section: a cell of the panel (its part depends on the station) or a piece of
/// a hinge or of the jamb.
struct SectionPatch {
  bool panel = false; ///< its part is found from `middle` and the station
  Part part = Part::outer_skin;
  int hinge = -1;
  PlanePoint middle; ///< m
};

/// A node of a foot and the node of the face that it lies on; welded or not by station.
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

/// Section of the panel with the door halves of all hinges.
/// Throws ComputeError when it cannot be meshed.
Section door_section(const Door& door, const Fineness& fine);

/// Section of the jamb with the frame halves (and pins that are fast in them), as if shut.
/// Throws ComputeError when it cannot be meshed.
Section frame_section(const Door& door, const Fineness& fine);

/// Section of the floating pin of one hinge. Throws ComputeError when it cannot be meshed.
Section pin_section(const Door& door, int hinge, const Fineness& fine);

} // namespace hangtrue
