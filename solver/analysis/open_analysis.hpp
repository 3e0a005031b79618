// The open door on its pins: self-weight and handle load, carried by contact alone.
#pragma once

#include "meshing/common/progress.hpp"
#include "meshing/door/door.hpp"
#include "meshing/mesh/mesh.hpp"
#include "solver/analysis/open_result.hpp"
#include "solver/contact/contact_pairs.hpp"
#include "solver/heat/thermal_state.hpp"
#include "solver/substructuring/factorization_cache.hpp"

#include <vector>

namespace hangtrue
{

/// How much is told of an open door.
enum class OpenDetail {
  answers, ///< movements, forces, stresses
  parts,   ///< also how much of the drop is steel and how much is heat
  budget   ///< also the drop, and with heat the bow, split into all its shares
};

/// Solves the open door at its swing angle: elastic bodies, pins in bores with clearance, thrust
/// faces with end float. Parts of bodies that `kept` holds from an earlier door or state are not
/// factored again; a cold door that is drawn like an earlier one takes over how its steel answers.
/// `foreseen` is where a like state touched (Deflection::touches), which saves work.
/// Throws ComputeError when the contact does not settle or the books do not balance.
Deflection deflect_open(const Door& door, const Mesh& mesh, const Progress& progress = {},
                        const WarmDoor* warm = nullptr, FactoredBodies* kept = nullptr,
                        OpenDetail detail = OpenDetail::budget,
                        const std::vector<Touch>& foreseen = {});

} // namespace hangtrue
