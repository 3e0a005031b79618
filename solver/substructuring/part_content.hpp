// What a part of a body is made of: the content by which its factor is found again.
#pragma once

#include "meshing/common/vec3.hpp"
#include "solver/elasticity/elastic_body.hpp"

#include <array>
#include <memory>
#include <vector>

namespace hangtrue
{

/// What a part is made of, in its own frame (origin at its first node, turned back by the swing).
/// Two parts of equal content are the same to the solver, wherever they stand.
struct PartContent {
  std::vector<Vec3> nodes;                ///< m
  std::vector<std::array<int, 27>> cells; ///< node numbers
  std::vector<Elasticity> elasticity;     ///< per cell
  std::vector<HeldUnknown> held;          ///< at zero
  std::vector<int> joint;                 ///< nodes that it shares with other parts
  std::vector<HeldUnknown> seats;         ///< of a carrier: free unknowns that forces come to
  bool piece = false;                     ///< near the pin; a carrier holds it at its joints
  Vec3 axis;                              ///< m, a place on the pin axis, for radial directions
};

/// True when both have the same numbers.
bool same_content(const PartContent& a, const PartContent& b);

/// True when both have the same cells, joints and seats: one ordering of unknowns is good for both.
bool same_pattern(const PartContent& a, const PartContent& b);

/// The same with its places on a grid of about a hundredth of a nanometre: a part that stands
/// elsewhere along the axis has the same numbers, and what comes of it does not depend on which of
/// the two came first.
PartContent on_grid(PartContent content);

/// Content as the key of a cache.
using PartKey = std::shared_ptr<const PartContent>;

/// `same_content` of two keys.
struct SameContent {
  bool operator()(const PartKey& a, const PartKey& b) const { return same_content(*a, *b); }
};

/// `same_pattern` of two keys.
struct SamePattern {
  bool operator()(const PartKey& a, const PartKey& b) const { return same_pattern(*a, *b); }
};

} // namespace hangtrue
