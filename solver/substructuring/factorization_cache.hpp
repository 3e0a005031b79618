// SPDX-License-Identifier: GPL-3.0-or-later
// Parts of bodies that were factored once, held for the next door or state.
#pragma once

#include "meshing/common/lru_cache.hpp"
#include "solver/linear_algebra/block_cholesky.hpp"
#include "solver/substructuring/substructure_content.hpp"

#include <atomic>
#include <cstddef>
#include <functional>
#include <memory>

namespace hangtrue::substructuring
{

class CondensedSubstructure;

/// Factorized substructures by their content, and orderings of unknowns by their pattern. Two
/// threads may look for all of it at once.
struct FactorizationCache {
  using Substructures =
      LruCache<SubstructureKey, std::shared_ptr<CondensedSubstructure>, SameContent>;

  /// `evicted` hears of every part that goes; who holds on to one may let it go then.
  explicit FactorizationCache(Substructures::OnEviction evicted = {});

  Substructures substructures;
  LruCache<SubstructureKey, std::shared_ptr<const linear_algebra::FactorOrdering>, SamePattern>
      orderings;                   ///< of parts gone
  std::function<void()> make_room; ///< called before a part is factored, if set
  std::size_t loads_per_substructure =
      24;                          ///< of a check closed at instants of the warm-up, a dozen
  std::atomic<int> factorized = 0; ///< parts factored so far
  std::atomic<int> reused = 0;     ///< parts found again
};

/// The substructure of that content, its coordinates rounded to about a hundredth of a nanometre
/// (one that is elsewhere along the axis differs by rounding only): from the cache, or factorized
/// and stored; both give bit-identical results. Throws ComputeError when it cannot be factorized.
std::shared_ptr<CondensedSubstructure> find_or_factorize(SubstructureContent content,
                                                         FactorizationCache& cache);

/// Evicts all substructures and retains their orderings for the next of the same pattern. A body of
/// such a substructure still uses it.
void retain_orderings(FactorizationCache& cache);

/// Removes a substructure from the cache.
void evict(const CondensedSubstructure& part, FactorizationCache& cache);

} // namespace hangtrue::substructuring
