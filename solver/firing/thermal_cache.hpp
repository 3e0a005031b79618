// SPDX-License-Identifier: GPL-3.0-or-later
// Cache of the thermal solutions of a door, for the next one with the same thermal key.
#pragma once

#include "meshing/common/lru_cache.hpp"
#include "meshing/door/door.hpp"
#include "meshing/door/mesh_density.hpp"
#include "meshing/mesh/mesh.hpp"
#include "solver/firing/critical_instant.hpp"
#include "solver/firing/firing_replay.hpp"
#include "solver/heat/thermal_state.hpp"

#include <functional>
#include <memory>
#include <optional>
#include <vector>

namespace hangtrue::firing
{

/// States computed at the same instants on a coarser mesh.
struct CachedThermalStates {
  std::vector<heat::ThermalStateId> wanted;
  std::vector<heat::ThermalState> found;
};

/// One body in one fire.
struct CachedHeating {
  door::Door door;     ///< thermal_key
  mesh::BodyMesh body; ///< of that door; nodes and cells are numbered as in every like one
  std::optional<HeatingRun> warming;         ///< once it was requested
  std::optional<CachedThermalStates> replay; ///< the latest
};

/// Key of the temperatures of a door in the cache.
struct ThermalKey {
  door::Door door; ///< thermal_key
  door::RefinementLevel level;
  std::shared_ptr<const mesh::BodyMesh> body; ///< compared by its cells
  bool operator==(const ThermalKey& other) const;
};

/// Temperatures of the last few doors: the levels of a check.
struct ThermalCache {
  LruCache<ThermalKey, std::shared_ptr<CachedHeating>> heats{CacheLimits{.count = 3}};
};

/// The door without what its temperatures do not depend on: loads, swing, latches, of the gasket
/// all but the gap that it stands in, and bore and pin: a bore that its pin fills is two thirds of
/// the knuckle to the heat.
door::Door thermal_key(door::Door door);

/// The body on which the temperatures of this door are computed, and what was computed on it
/// before: from the cache of a door with the same thermal key, or newly built. One thread only.
/// Throws ComputeError like `make_mesh`.
std::shared_ptr<CachedHeating> cached_heat_of(const door::Door& door, const mesh::BodyMesh& body,
                                              const door::RefinementLevel& level,
                                              ThermalCache& cache);

/// `heat_up` of that body, computed once. Throws ComputeError like it.
const HeatingRun& cached_heating(CachedHeating& heat);

/// `heat_again` of that body; the latest result where the request is the same. Throws ComputeError
/// like it.
const std::vector<heat::ThermalState>&
cached_replay(CachedHeating& heat, const std::vector<heat::ThermalStateId>& requested);

} // namespace hangtrue::firing
