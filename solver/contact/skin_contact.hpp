// A loose inner skin against the rim behind it: it rests, lifts as far as it is let, and slides.
#pragma once

#include "meshing/common/vec3.hpp"
#include "meshing/door/door.hpp"
#include "meshing/mesh/mesh.hpp"
#include "solver/contact/contact_pairs.hpp"

#include <vector>

namespace hangtrue
{

/// What a skin that was let go does against what lies behind it, m.
struct SkinPlay {
  double slide = 0.0;   ///< most, in the plane of the door
  double lift = 0.0;    ///< most, off the rim towards the fire
  double closing = 0.0; ///< most, of the cut of a split skin
};

/// Adds the places where a loose skin can rest on what lies behind it and where clips or a lip keep
/// it from lifting; sliding is free (no friction). Nothing for a welded or split skin.
void add_skin_points(const Door& door, const BodyMesh& body, std::vector<ContactPoint>& points);

/// Most sliding and lifting at twins, and most closing of a cut, m, for movements of all nodes, m.
SkinPlay skin_play(const BodyMesh& body, const std::vector<Vec3>& moves);

} // namespace hangtrue
