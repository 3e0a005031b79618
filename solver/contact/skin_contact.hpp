// SPDX-License-Identifier: GPL-3.0-or-later
// A loose inner skin against the rim behind it: it rests, lifts as far as it is let, and slides.
#pragma once

#include "meshing/common/vec3.hpp"
#include "meshing/door/door.hpp"
#include "meshing/mesh/mesh.hpp"
#include "solver/contact/contact_pairs.hpp"

#include <vector>

namespace hangtrue::contact
{

/// Relative displacement of a released skin and what lies behind it, m.
struct SkinSlip {
  double slide = 0.0;   ///< greatest, in the plane of the door
  double lift = 0.0;    ///< greatest, off the rim towards the fire
  double closing = 0.0; ///< greatest, of the cut of a split skin
};

/// Adds the pairs where a loose skin can rest on what lies behind it and where clips or a lip
/// prevent it from lifting; sliding is free (no friction). Nothing for a welded or split skin.
void add_skin_pairs(const door::Door& door, const mesh::BodyMesh& body,
                    std::vector<ContactPair>& pairs);

/// Greatest sliding and lifting at duplicate nodes, and closing of a cut, m, for displacements of
/// all nodes, m.
SkinSlip skin_slip(const mesh::BodyMesh& body, const std::vector<Vec3>& displacements);

} // namespace hangtrue::contact
