// Where round surfaces are in a lofted body: bores, pins and thrust faces.
#pragma once

#include "meshing/mesh/mesh.hpp"
#include "meshing/sweep/swept_body.hpp"

namespace hangtrue
{

/// Nodes of the body on a cylinder of `radius`, m, about the axis inside a span along it, taken
/// from cells of `part` of one hinge. Angles are those of the nodes as they stand in the body.
Cylinder cylinder(const BodyLoft& loft, const AxisPlace& axis, int hinge, Part part, double radius,
                  const Span& span);

/// Nodes of the ring cells of one hinge in the plane at `z`, m.
Annulus annulus(const BodyLoft& loft, const AxisPlace& axis, int hinge, double z);

} // namespace hangtrue
