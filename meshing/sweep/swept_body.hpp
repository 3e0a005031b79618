// One body: a section swept along the grid planes, with one node table (section node, plane).
#pragma once

#include "meshing/mesh/mesh.hpp"
#include "meshing/section/grid_planes.hpp"
#include "meshing/section/section_types.hpp"

#include <functional>
#include <optional>
#include <string>
#include <vector>

namespace hangtrue
{

/// The part and hinge that a quadrilateral becomes between two grid planes.
struct CellPlan {
  Part part = Part::outer_skin;
  int hinge = -1;
  int knuckle = -1;
};

/// A body and its node numbering: `node[section node][plane]`, -1 where there is no node.
struct BodyLoft {
  BodyMesh body;
  std::vector<double> plane; ///< m, grid planes and the middles between them
  std::vector<std::vector<int>> node;
  Section section;
};

/// What becomes of a patch of the section at the height of `middle`, m; nothing where it is empty.
using PlanCell = std::function<std::optional<CellPlan>(const SectionPatch&, double middle)>;
/// True where a foot is welded to its face at height z, m.
using IsWelded = std::function<bool(const FootNode&, double z)>;

/// Sweeps the section along the grid planes `z`, m; `plan` gives the part of a patch between two
/// grid planes and `is_welded` where a foot shares its nodes with the face.
BodyLoft loft_body(const std::string& name, Section section, const Places& z, const PlanCell& plan,
                   const IsWelded& is_welded);

} // namespace hangtrue
