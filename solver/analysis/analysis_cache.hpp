// Everything that analyses leave for the next ones, and the one place that says how long it stays.
#pragma once

#include "meshing/quality/mesh_cache.hpp"
#include "solver/firing/thermal_cache.hpp"
#include "solver/substructuring/factorization_cache.hpp"
#include "solver/substructuring/substructured_body.hpp"
#include "solver/system/system_cache.hpp"

#include <cstddef>
#include <memory>

namespace hangtrue
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

  KeptMeshes meshes;
  SystemCache systems; ///< they hold on to parts: where one of these goes, so do all of them
  FactoredBodies factors;
  HeatCache heats;

  [[nodiscard]] const CachePolicy& policy() const { return policy_; }

  /// So many threads may work on the door in hand.
  void set_threads(int threads) { policy_.threads = threads; }

  /// Factors and systems take this many bytes at most, where it is less than before.
  void limit_bytes(std::size_t bytes);

  /// `take_hang` of the systems; null where nobody would ask for it again.
  std::shared_ptr<KeptHang> take_system(const Door& door, const Mesh& mesh, Standing standing,
                                        const WarmDoor* warm);

  /// Puts a system back; nothing for null.
  void put_system(std::shared_ptr<KeptHang> system);

  /// Nothing more is asked of a body in this state of this door: its carrier goes unless another
  /// door may come.
  void release(const JoinedBody& body);

  /// No more bodies of this state come for this door: only their orderings stay unless another door
  /// may come.
  void release_factors();

  /// No more systems of this state come for this door: they go unless another door may come.
  void release_systems();

  /// The warm-up of that heat, which must be there: a copy where another door may ask for it.
  [[nodiscard]] Warming take_warming(KeptHeat& heat) const;

private:
  CachePolicy policy_;
  void make_room();
};

} // namespace hangtrue
