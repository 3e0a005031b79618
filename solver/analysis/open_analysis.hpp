// The open door on its pins: self-weight and handle load, carried by contact alone.
#pragma once

#include "meshing/door/door.hpp"
#include "meshing/mesh/mesh.hpp"
#include "solver/analysis/open_result.hpp"
#include "solver/substructuring/factorization_cache.hpp"

#include <functional>
#include <string>
#include <vector>

namespace hangtrue
{

/// Called with a stage in the user's words and the share of the whole that is done (0 to 1).
using Progress = std::function<void(const std::string& stage, double done)>;

/// Temperatures of the door's nodes in a warm state; jamb and frame leaves are all at one
/// temperature and a pin takes the mean of the door's knuckles and the jamb.
struct WarmDoor {
  std::string state;
  std::vector<double> at; ///< degC, per node of Mesh::door
  Warmth warmth;
};

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
