// SPDX-License-Identifier: GPL-3.0-or-later
// Outer sides and cuts of a meshed body as flat facets, ready to be drawn.
#pragma once

#include "meshing/common/vec3.hpp"
#include "meshing/mesh/mesh.hpp"

#include <array>
#include <functional>
#include <vector>

namespace hangtrue::scene
{

/// A point between two nodes of a body: (1 - share) of `a`, share of `b`.
struct EdgePoint {
  int a = 0;
  int b = 0;
  double share = 0.0;
};

/// Flat facets with the feature edges: edges of more than 25 degrees, free ends, and changes from
/// one part to another.
struct Surface {
  std::vector<EdgePoint> points;
  std::vector<std::vector<int>> pieces; ///< corners, three or more, in order round the facet
  std::vector<mesh::Part> part;         ///< per facet
  std::vector<int> knuckle;             ///< per facet: knuckle of its hinge, -1 for none
  std::vector<int> cell;                ///< per facet: the cell of the body that it bounds
  std::vector<std::array<int, 2>> edges;
};

/// True for the requested cells.
using CellFilter = std::function<bool(const mesh::Hex27&)>;

/// Sides of selected cells that no other selected cell shares; four facets to a side, or one where
/// a coarse surface will do.
Surface surface_of(const mesh::BodyMesh& body, const CellFilter& include, bool coarse = false);

/// Only the facets in the plane at `y`, m, with the edges of their outline.
Surface plane_faces(const Surface& surface, const mesh::BodyMesh& body, double y);

/// Cut of selected cells by the plane through `at` square to `normal`; eight straight-sided cells
/// are cut for one 27-node cell.
Surface plane_cut(const mesh::BodyMesh& body, const CellFilter& include, const Vec3& position,
                  const Vec3& normal);

/// Positions of the points, m: nominal position and `scale` times the displacement of every node,
/// if any.
std::vector<Vec3> point_positions(const Surface& surface, const mesh::BodyMesh& body,
                                  const std::vector<Vec3>* displacements = nullptr,
                                  double scale = 1.0);

/// Values at the points from values at the nodes.
std::vector<double> values_at(const Surface& surface, const std::vector<double>& at_nodes);

} // namespace hangtrue::scene
