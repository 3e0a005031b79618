// SPDX-License-Identifier: GPL-3.0-or-later
// The planar section square to the hinge axis, cut into named patches.
#pragma once

#include "meshing/door/door.hpp"
#include "meshing/door/mesh_density.hpp"
#include "meshing/section/section_types.hpp"

namespace hangtrue::section
{

/// Section of the panel with the door halves of all hinges.
/// Throws ComputeError when it cannot be meshed.
Section door_section(const door::Door& door, const door::MeshDensity& fine);

/// Section of the jamb with the frame halves (and pins clamped in them), as if closed.
/// Throws ComputeError when it cannot be meshed.
Section frame_section(const door::Door& door, const door::MeshDensity& fine);

/// Section of the floating pin of one hinge. Throws ComputeError when it cannot be meshed.
Section pin_section(const door::Door& door, int hinge, const door::MeshDensity& fine);

} // namespace hangtrue::section
