// One body: a section swept over the stations, with one node table (section node, plane).
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

/// What a quadrilateral becomes between two stations.
struct CellPlan {
  Part part = Part::outer_skin;
  int hinge = -1;
  int knuckle = -1;
};

/// A body and how its nodes came about: `node[section node][plane]`, -1 where nothing is.
struct BodyLoft {
  BodyMesh body;
  std::vector<double> plane; ///< m, stations and the middles between them
  std::vector<std::vector<int>> node;
  Section section;
};

/// What becomes of a patch of the section at the height of `middle`, m; nothing where it is empty.
using PlanCell = std::function<std::optional<CellPlan>(const SectionPatch&, double middle)>;
/// True where a foot is welded to its face at height z, m.
using IsWelded = std::function<bool(const FootNode&, double z)>;

/// Sweeps the section along the stations `z`, m; `plan` says what a patch is between two stations
/// and `is_welded` where a foot shares its nodes with the face.
BodyLoft loft_body(const std::string& name, Section section, const Places& z, const PlanCell& plan,
                   const IsWelded& is_welded);

} // namespace hangtrue
