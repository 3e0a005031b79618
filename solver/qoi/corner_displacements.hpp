// SPDX-License-Identifier: GPL-3.0-or-later
// What the corners of the open door do, with its free swing put back.
#pragma once

#include "meshing/common/vec3.hpp"
#include "meshing/door/door.hpp"
#include "meshing/mesh/mesh.hpp"
#include "solver/elasticity/elastic_body.hpp"

#include <cstddef>
#include <vector>

namespace hangtrue::qoi
{

/// A corner of the outer skin.
enum class DoorCorner { lower_latch, upper_latch, lower_hinge, upper_hinge };

/// "lower latch". For texts alone, never to compare.
const char* corner_label(DoorCorner corner);

/// Displacement of one corner of the outer skin from its nominal position, m, in the door frame.
struct CornerDisplacement {
  DoorCorner corner = DoorCorner::lower_latch;
  Vec3 move;
};

/// The four corners of the outer skin, latch corners first, from displacements, m, of all nodes of
/// the door.
std::vector<CornerDisplacement> corner_displacements(const door::Door& door, const mesh::Mesh& mesh,
                                                     const elasticity::NodeField& displacements);

/// Removes the free swing, so that the latch edge as a whole stays at its angle.
void remove_free_swing(const door::Door& door, const mesh::Mesh& mesh,
                       elasticity::NodeField& displacements);

/// Which of the latch corners drops most, 0 the lower and 1 the upper one, from the drops of both,
/// m: the lower one where they drop equally.
std::size_t lowest_corner(double lower, double upper);

/// Drop, m, along gravity, of the latch corner that drops most.
double greatest_drop(const door::Door& door, const std::vector<CornerDisplacement>& corners);

/// How much farther from the hinges, m, the upper latch corner is displaced than the lower one.
double lean_of(const std::vector<CornerDisplacement>& corners);

} // namespace hangtrue::qoi
