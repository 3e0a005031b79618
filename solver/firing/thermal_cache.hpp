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

namespace hangtrue
{

/// States computed at the same instants on a coarser mesh.
struct KeptStates {
  std::vector<ThermalStateId> wanted;
  std::vector<WarmDoor> found;
};

/// One body in one fire.
struct KeptHeat {
  Door door;     ///< as_heated
  BodyMesh body; ///< of that door; nodes and cells are numbered as in every like one
  std::optional<Warming> warming;  ///< once it was requested
  std::optional<KeptStates> again; ///< the latest
};

/// By what the heat of a door is found again.
struct HeatKey {
  Door door; ///< as_heated
  Levels levels;
  std::shared_ptr<const BodyMesh> body; ///< compared by its cells
  bool operator==(const HeatKey& other) const;
};

/// The heat of the last few doors: the levels of a check.
struct HeatCache {
  LruCache<HeatKey, std::shared_ptr<KeptHeat>> heats{CacheLimits{.count = 3}};
};

/// The door without what its heat does not hang on: loads, swing, latches, of the gasket all but
/// the gap that it stands in, and bore and pin: a bore that its pin fills is two thirds of the
/// knuckle to the heat.
Door as_heated(Door door);

/// The body on which the temperatures of this door are computed, and what was computed on it
/// before: from the cache of a door with the same thermal key, or newly built. One thread only.
/// Throws ComputeError like `loft`.
std::shared_ptr<KeptHeat> heat_of(const Door& door, const BodyMesh& body, const Levels& levels,
                                  HeatCache& kept);

/// `warm` of that body, computed once. Throws ComputeError like it.
const Warming& warming_of(KeptHeat& heat);

/// `heat_again` of that body; the latest result where the request is the same. Throws ComputeError
/// like it.
const std::vector<WarmDoor>& heat_again(KeptHeat& heat, const std::vector<ThermalStateId>& wanted);

} // namespace hangtrue
