// SPDX-License-Identifier: GPL-3.0-or-later
// Cache of the assembled system of a door in one state, for the next one with the same geometry
// key.
#pragma once

#include "meshing/common/lru_cache.hpp"
#include "meshing/common/vec3.hpp"
#include "meshing/door/door.hpp"
#include "meshing/mesh/mesh.hpp"
#include "solver/contact/contact_pairs.hpp"
#include "solver/contact/contact_solver.hpp"
#include "solver/heat/thermal_state.hpp"
#include "solver/substructuring/substructured_body.hpp"
#include "solver/system/door_position.hpp"
#include "solver/system/error_by_region.hpp"

#include <memory>
#include <vector>

namespace hangtrue::system
{

/// Key of an assembled door.
struct SystemKey {
  door::Door key; ///< mesh_key
  DoorPosition position = DoorPosition::open;
  std::vector<double> temperature;      ///< degC, at the door's nodes; empty when cold
  double jamb = 0.0;                    ///< degC, when warm
  double pins = 0.0;                    ///< degC, when warm
  std::vector<std::vector<Vec3>> nodes; ///< m, of door, frame and pins
};

/// Equality of door, position, temperatures and mesh.
struct SameSystem {
  bool operator()(const std::shared_ptr<const SystemKey>& a,
                  const std::shared_ptr<const SystemKey>& b) const;
};

/// A door on its hinges without its loads, the play along its pins and its wear.
struct CachedDoorSystem {
  std::shared_ptr<const SystemKey> key;
  std::vector<std::shared_ptr<substructuring::SubstructuredBody>> elastic; ///< door, frame and pins
  std::vector<fe::Discretization> spaces;                                  ///< of each
  std::vector<elasticity::NodeField> weight;                               ///< N, of each
  std::vector<elasticity::NodeField> thermal_load; ///< N, of each, when heated
  std::vector<contact::ContactPair> pairs;         ///< that the columns are of
  contact::ComplianceColumnCache columns;          ///< of their contact
  CachedErrorEstimate error;                       ///< of the last door
};

/// Assembled doors of two levels at most: open and closed, cold and in some five states.
struct SystemCache {
  SystemCache();
  LruCache<std::shared_ptr<const SystemKey>, std::shared_ptr<CachedDoorSystem>, SameSystem> systems;
};

/// The cached system of this door on this mesh in this state, taken out of the cache; an empty one
/// of the same door where there is none. Throws nothing.
std::shared_ptr<CachedDoorSystem> take_system(const door::Door& door, const mesh::Mesh& mesh,
                                              SystemCache& cache,
                                              DoorPosition position = DoorPosition::open,
                                              const heat::ThermalState* thermal = nullptr);

/// Clears the columns unless they are of these pairs, whatever the gaps.
void invalidate_columns_unless(const std::vector<contact::ContactPair>& pairs,
                               CachedDoorSystem& cached);

/// Memory, byte, besides the substructures of its bodies.
std::size_t bytes_of(const CachedDoorSystem& cached);

/// Stores a system for the next door; those of doors with another geometry key are evicted.
void store_system(std::shared_ptr<CachedDoorSystem> cached, SystemCache& cache);

} // namespace hangtrue::system
