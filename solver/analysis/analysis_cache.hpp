// SPDX-License-Identifier: GPL-3.0-or-later
// Everything that analyses leave for the next ones, and the one place that says how long it stays.
#pragma once

#include "meshing/quality/mesh_cache.hpp"
#include "solver/firing/thermal_cache.hpp"
#include "solver/substructuring/factorization_cache.hpp"
#include "solver/substructuring/substructured_body.hpp"
#include "solver/system/system_cache.hpp"

#include <cstddef>
#include <memory>

namespace hangtrue::analysis
{

/// For whom a cache works. One of a single door lets the factors and systems of a state go when no
/// later state of that door asks for them.
struct CachePolicy {
  bool reuse_across_doors = true;
  std::size_t max_bytes = std::size_t{2400} << 20; ///< of factors and systems together
  int threads = 1;                                 ///< that may work on the door in hand
};

/// Owns all that is cached between states, levels and doors: meshes, factors, assembled systems,
/// heat. Two threads may use it at once.
class AnalysisCache
{
public:
  explicit AnalysisCache(const CachePolicy& policy = {});
  AnalysisCache(const AnalysisCache&) = delete;
  AnalysisCache& operator=(const AnalysisCache&) = delete;

  quality::MeshCache meshes;
  system::SystemCache systems; ///< they own substructures: where one is evicted, all systems are
  substructuring::FactorizationCache factors;
  firing::ThermalCache thermal;

  [[nodiscard]] const CachePolicy& policy() const { return policy_; }

  /// So many threads may work on the door in hand.
  void set_threads(int threads) { policy_.threads = threads; }

  /// Factors and systems take this many bytes at most, where it is less than before.
  void limit_bytes(std::size_t bytes);

  /// `take_system` of the systems; null where it would not be used again.
  std::shared_ptr<system::CachedDoorSystem> take_system(const door::Door& door,
                                                        const mesh::Mesh& mesh,
                                                        system::DoorPosition position,
                                                        const heat::ThermalState* thermal);

  /// Stores a system; does nothing for null.
  void store_system(std::shared_ptr<system::CachedDoorSystem> system);

  /// A body is no longer used in this state of this door: the factor of its base is released unless
  /// another door may follow.
  void release(const substructuring::SubstructuredBody& body);

  /// No further bodies of this state follow for this door: only their orderings are retained unless
  /// another door may follow.
  void release_factors();

  /// No further systems of this state follow for this door: they are evicted unless another door
  /// may follow.
  void release_systems();

  /// The heating run of that entry, which must exist: a copy where another door may use it.
  [[nodiscard]] firing::HeatingRun take_heating_run(firing::CachedHeating& heat) const;

private:
  CachePolicy policy_;
  void make_room();
};

} // namespace hangtrue::analysis
