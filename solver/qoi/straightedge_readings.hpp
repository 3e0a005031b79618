// What a straightedge on the skins reads.
#pragma once

#include "meshing/common/vec3.hpp"
#include "meshing/door/door.hpp"
#include "meshing/mesh/mesh.hpp"
#include "solver/contact/contact_pairs.hpp"

#include <vector>

namespace hangtrue
{

/// A door that heat has moved, as a straightedge on the skins would read it, m: how far the middle
/// stands outwards (+y) of the line between the ends, and how much the door has grown.
struct BowReadings {
  double outer_across = 0.0; ///< hinge edge to latch edge, at mid height
  double outer_along = 0.0;  ///< along the axis, at mid width
  double outer_diagonal = 0.0;
  double outer_corners = 0.0; ///< middle against the mean of the four corners
  double inner_across = 0.0;
  double inner_along = 0.0;
  double inner_diagonal = 0.0;
  double inner_corners = 0.0;
  double width_growth = 0.0;  ///< of the outer skin at mid height
  double height_growth = 0.0; ///< of the outer skin at mid width
};

/// Readings from the movements, m, of the door's nodes; rigid movements do not show in them.
BowReadings bow_readings(const Door& door, const BodyMesh& body, const std::vector<Vec3>& moves);

/// The nodes, and the weights of their outward movements, that make BowReadings::outer_corners.
std::vector<WeightedNode> middle_against_corners(const Door& door, const BodyMesh& body);

} // namespace hangtrue
