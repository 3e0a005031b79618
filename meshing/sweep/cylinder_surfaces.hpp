// SPDX-License-Identifier: GPL-3.0-or-later
// The cylindrical surfaces of a swept body: bores, pins and thrust faces.
#pragma once

#include "meshing/mesh/mesh.hpp"
#include "meshing/sweep/swept_body.hpp"

namespace hangtrue::sweep
{

/// An angle, rad, from 0 up to a turn. A place at `radius`, m, that rounding puts just below zero
/// counts as zero, so that every circle of a face begins with the same node.
double turn_from_zero(double angle, double radius);

/// Nodes of the body on a cylinder of `radius`, m, about the axis inside a span along it, taken
/// from cells of `part` of one hinge. Angles are those of the nodes at their current positions in
/// the body.
mesh::Cylinder cylinder(const SweptBody& swept, const door::AxisPosition& axis, int hinge,
                        mesh::Part part, double radius, const door::Span& span);

/// Nodes of the ring cells of one hinge in the plane at `z`, m.
mesh::Annulus annulus(const SweptBody& swept, const door::AxisPosition& axis, int hinge, double z);

} // namespace hangtrue::sweep
