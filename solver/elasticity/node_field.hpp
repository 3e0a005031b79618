// SPDX-License-Identifier: GPL-3.0-or-later
// Displacements and forces by the nodes of a body.
#pragma once

#include "meshing/common/vec3.hpp"

#include <vector>

namespace hangtrue::elasticity
{

/// One value for every node of a body, in the body's node order; m or N.
using NodeField = std::vector<Vec3>;

/// True when both have the same numbers.
bool same_field(const NodeField& a, const NodeField& b);

/// The same as a predicate, for keys of a cache.
struct SameField {
  bool operator()(const NodeField& a, const NodeField& b) const { return same_field(a, b); }
};

/// A force on one node, N.
struct NodeForce {
  int node = 0;
  Vec3 force;
};

/// One unknown of one node that is fixed at zero: component 0, 1, 2 for x, y, z.
struct FixedDof {
  int node = 0;
  int component = 0;
};

} // namespace hangtrue::elasticity
