// SPDX-License-Identifier: GPL-3.0-or-later
// What a straightedge on the skins reads.
#pragma once

#include "meshing/common/vec3.hpp"
#include "meshing/door/door.hpp"
#include "meshing/mesh/mesh.hpp"
#include "solver/contact/contact_pairs.hpp"

#include <vector>

namespace hangtrue::qoi
{

/// A door displaced by heat, as a straightedge on the skins would read it, m: how far the middle is
/// outwards (+y) of the line between the ends, and how much the door has grown.
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

/// Readings from the displacements, m, of the door's nodes; they do not depend on rigid
/// displacements.
BowReadings bow_readings(const door::Door& door, const mesh::BodyMesh& body,
                         const std::vector<Vec3>& displacements);

/// The nodes, and the weights of their outward displacements, that make BowReadings::outer_corners.
std::vector<contact::NodeWeight> middle_against_corners(const door::Door& door,
                                                        const mesh::BodyMesh& body);

} // namespace hangtrue::qoi
