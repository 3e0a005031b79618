// SPDX-License-Identifier: GPL-3.0-or-later
// The open door on its pins: self-weight and handle load, carried by contact alone.
#pragma once

#include "meshing/common/progress.hpp"
#include "meshing/door/door.hpp"
#include "meshing/mesh/mesh.hpp"
#include "solver/analysis/analysis_cache.hpp"
#include "solver/analysis/open_result.hpp"
#include "solver/contact/contact_pairs.hpp"
#include "solver/heat/thermal_state.hpp"

#include <vector>

namespace hangtrue::analysis
{

/// How much is reported of an open door.
enum class ResultDetail {
  basic,        ///< displacements, forces, stresses
  split,        ///< also how much of the drop is steel and how much is heat
  contributions ///< also the drop, and with heat the bow, split into all contributions
};

/// What the open door is solved from.
struct OpenAnalysisInput {
  const door::Door& door;
  const mesh::Mesh& mesh;
  Progress progress{};
  const heat::ThermalState* thermal = nullptr; ///< nothing: the door at its one temperature
  AnalysisCache* cache = nullptr;              ///< of earlier doors or states, or nothing
  ResultDetail detail = ResultDetail::contributions;
  std::vector<contact::ActiveContact>
      warm_start{}; ///< active contact of a similar state (OpenDoorResult::active_contacts)
};

/// Solves the open door at its swing angle: elastic bodies, pins in bores with clearance, thrust
/// faces with end float. Substructures in the cache are not factorized again; a cold door with the
/// geometry key of an earlier one reuses its compliance. A warm start saves work. Throws
/// ComputeError when the contact does not converge or the equilibrium check fails.
OpenDoorResult solve_open_door(const OpenAnalysisInput& input);

} // namespace hangtrue::analysis
