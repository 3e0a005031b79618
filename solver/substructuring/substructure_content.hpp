// SPDX-License-Identifier: GPL-3.0-or-later
// Content of a substructure, by which its factor is found in the cache.
#pragma once

#include "meshing/common/vec3.hpp"
#include "solver/elasticity/elastic_body.hpp"

#include <array>
#include <memory>
#include <vector>

namespace hangtrue::substructuring
{

/// Nodes, cells and constraints of a substructure in its own frame (origin at its first node,
/// turned back by the swing). Two substructures of equal content have the same factor, wherever
/// they are.
struct SubstructureContent {
  std::vector<Vec3> nodes;                ///< m
  std::vector<std::array<int, 27>> cells; ///< node numbers
  std::vector<int> groups;                ///< joint group of each cell (mesh::joint_groups), from
                                          ///< 0 in the order of their first cells
  std::vector<elasticity::Elasticity> elasticity; ///< per cell
  std::vector<elasticity::FixedDof> fixed_dofs;   ///< at zero
  std::vector<int> interface;                     ///< nodes shared with other substructures
  std::vector<elasticity::FixedDof> retained;     ///< of a base: free unknowns with forces
  bool is_hinge_substructure = false;             ///< near the pin; coupled to the base
  Vec3 axis; ///< m, a place on the pin axis, for radial directions
};

/// Its cells and nodes as a body, all of steel.
mesh::BodyMesh body_of(const SubstructureContent& content);

/// True when both have the same numbers.
bool same_content(const SubstructureContent& a, const SubstructureContent& b);

/// True when both have the same cells, interface and retained unknowns: one ordering fits both.
bool same_pattern(const SubstructureContent& a, const SubstructureContent& b);

/// The same with its coordinates rounded to about a hundredth of a nanometre: a substructure that
/// is elsewhere along the axis has the same numbers, and results do not depend on which of the two
/// came first.
SubstructureContent rounded_to_grid(SubstructureContent content);

/// Content as the key of a cache.
using SubstructureKey = std::shared_ptr<const SubstructureContent>;

/// `same_content` of two keys.
struct SameContent {
  bool operator()(const SubstructureKey& a, const SubstructureKey& b) const
  {
    return same_content(*a, *b);
  }
};

/// `same_pattern` of two keys.
struct SamePattern {
  bool operator()(const SubstructureKey& a, const SubstructureKey& b) const
  {
    return same_pattern(*a, *b);
  }
};

} // namespace hangtrue::substructuring
