// SPDX-License-Identifier: GPL-3.0-or-later
// A planar drawing of four-sided patches and its mesh of 9-node quadrilaterals.
#pragma once

#include <array>
#include <cstddef>
#include <map>
#include <utility>
#include <vector>

namespace hangtrue::section
{

/// A point of the section, m.
struct PlanePoint {
  double x = 0.0;
  double y = 0.0;
};

/// One line or circular arc between two points, cut into equal cells.
struct PlaneCurve {
  int from = 0;
  int to = 0;
  int centre = -1; ///< point in the centre of the arc, -1 for a straight line
  int cells = 1;
};

/// A four-sided patch: each side is a chain of curves (index + 1, negative when run backwards).
struct PlanePatch {
  std::array<std::vector<int>, 4> sides;
  std::array<int, 4> corners{};
  int label = 0;
};

/// What is to be meshed; coincident points stay separate unless they are one point.
struct PlaneDrawing {
  std::vector<PlanePoint> points;
  std::vector<PlaneCurve> curves;
  std::vector<PlanePatch> patches;
  std::map<std::pair<int, int>, int> known; ///< curve between two points

  /// Adds a point, m, and returns its index.
  int point(double x, double y);
  /// Adds a curve, or finds an existing one, and returns its signed index + 1.
  int curve(int from, int to, int cells = 1, int centre = -1);
  /// Adds a patch with four given corners, counter-clockwise, one curve to each side.
  void patch(const std::array<int, 4>& corners, int label);
  /// Adds a patch from four chains of points, counter-clockwise, each ending where the next begins.
  void patch(const std::array<std::vector<int>, 4>& chains, int label);
};

/// Quadrilateral with nodes i + 3 j, counter-clockwise.
struct PlaneQuad {
  std::array<int, 9> node{};
  int label = 0;
};

/// Nodes, m, and 9-node quadrilaterals.
struct PlaneMesh {
  std::vector<PlanePoint> nodes;
  std::vector<PlaneQuad> quads;
};

/// Meshes the drawing with transfinite patches through the Gmsh library.
/// Throws ComputeError when a patch does not come out as 9-node quadrilaterals.
PlaneMesh mesh_plane(const PlaneDrawing& drawing);

} // namespace hangtrue::section
