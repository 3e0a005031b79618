// Parts of bodies that were factored once, held for the next door or state.
#pragma once

#include "meshing/common/lru_cache.hpp"
#include "solver/linear_algebra/block_cholesky.hpp"
#include "solver/substructuring/part_content.hpp"

#include <atomic>
#include <cstddef>
#include <functional>
#include <memory>

namespace hangtrue
{

class FactoredPart;

/// Factored parts found again by their content, and orderings of unknowns by their pattern. Two
/// threads may look for all of it at once.
struct FactoredBodies {
  using Parts = LruCache<PartKey, std::shared_ptr<FactoredPart>, SameContent>;

  /// `evicted` hears of every part that goes; who holds on to one may let it go then.
  explicit FactoredBodies(Parts::OnEviction evicted = {});

  Parts parts;
  LruCache<PartKey, std::shared_ptr<const FactorOrdering>, SamePattern>
      orderings;                   ///< of parts gone
  std::function<void()> make_room; ///< called before a part is factored, if set
  std::size_t loads_per_part = 24; ///< of a check closed at instants of the warm-up, a dozen
  std::atomic<int> made = 0;       ///< parts factored so far
  std::atomic<int> reused = 0;     ///< parts found again
};

/// The substructure of that content, its coordinates rounded to about a hundredth of a nanometre
/// (one that is elsewhere along the axis differs by rounding only): from the cache, or factorized
/// and stored; both give bit-identical results. Throws ComputeError when it cannot be factorized.
std::shared_ptr<FactoredPart> factored(PartContent content, FactoredBodies& kept);

/// Of all parts only their orderings stay, for the next of the same pattern. A body that stands on
/// such a part goes on with it.
void retain_orderings(FactoredBodies& kept);

/// Removes a substructure from the cache.
void forget(const FactoredPart& part, FactoredBodies& kept);

} // namespace hangtrue
