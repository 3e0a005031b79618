// SPDX-License-Identifier: GPL-3.0-or-later
// Contact between the nodes of a circle: a round bore and the round edge of a thrust face.
#pragma once

#include "solver/contact/contact_pairs.hpp"

#include <map>
#include <vector>

namespace hangtrue::contact
{

/// Pairs between two neighbouring nodes of a circle lie at so many equal steps, less one. At 7.5
/// degrees between nodes a step is 0.23 degrees: a body that rests on two of them is off by 1 -
/// cos(0.12 degrees) = 2e-6 of the gap along its force and by 0.2 % across it.
constexpr int steps_per_arc = 32;

/// One circle of contact pairs, of a bore or of a thrust face.
struct ContactCircle {
  std::vector<int> pair;      ///< at its nodes, by rising angle
  std::vector<double> angle;  ///< rad, of these
  std::map<int, int> between; ///< pairs between nodes by their step, counted from the first node
  double radius = 0.0;        ///< m
  Vec3 centre;                ///< m
};

/// A position on one of the circles: step `step` from its first node.
struct IntermediatePosition {
  int circle = 0;
  int step = 0;
};

/// The circles of the pairs at hinges, which lie at the circles' nodes; existing pairs between
/// nodes are found as well.
std::vector<ContactCircle> contact_circles(const std::vector<ContactPair>& pairs);

/// Positions between nodes where a body clear of all pairs penetrates the true circle: two steps,
/// one to either side of where it would rest, for every circle that is penetrated by more than
/// `tolerance`, m, and by more than 3e-6 of the displacement across it. `gaps`, m, and
/// `contact_force`, N, are of all pairs. Empty when every circle holds.
std::vector<IntermediatePosition> violated_intermediate_positions(
    const std::vector<ContactCircle>& circles, const std::vector<ContactPair>& pairs,
    const std::vector<double>& gaps, const std::vector<double>& contact_force, double tolerance);

/// A pair at a step of a circle: its sides are means over the pairs of three neighbouring nodes
/// that reproduce every rigid displacement; so is its gap.
ContactPair intermediate_pair(const std::vector<ContactPair>& pairs, const ContactCircle& circle,
                              int step);

/// Weights of the three pairs that a pair at a step of a circle is a mean of.
std::vector<NodeWeight> intermediate_weights(const ContactCircle& circle, int step);

/// Adds to `pairs` of another door, which are all at nodes, the pairs between nodes that a solution
/// has beyond its own, `like`, in the same order.
void add_intermediate_pairs(const std::vector<ContactPair>& like, std::vector<ContactPair>& pairs);

} // namespace hangtrue::contact
