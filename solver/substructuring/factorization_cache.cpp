// SPDX-License-Identifier: GPL-3.0-or-later
#include "solver/substructuring/factorization_cache.hpp"

#include "solver/substructuring/condensed_substructure.hpp"

#include <utility>

namespace hangtrue::substructuring
{

FactorizationCache::FactorizationCache(Substructures::OnEviction evicted)
    : substructures(
          {}, [](const SubstructureKey&, const auto& part) { return part->bytes(); },
          std::move(evicted))
{
}

namespace
{

// That of the part used last with the same cells, in another size: it is as good.
std::shared_ptr<const linear_algebra::FactorOrdering> ordering_for(const SubstructureKey& content,
                                                                   FactorizationCache& cache)
{
  const auto like = cache.substructures.latest_if(
      [&](const SubstructureKey& key, const auto&) { return same_pattern(*key, *content); });
  return like ? (*like)->factor().ordering() : cache.orderings.find(content).value_or(nullptr);
}

} // namespace

std::shared_ptr<CondensedSubstructure> find_or_factorize(SubstructureContent content,
                                                         FactorizationCache& cache)
{
  const auto key = std::make_shared<const SubstructureContent>(rounded_to_grid(std::move(content)));
  if (auto found = cache.substructures.find(key)) {
    ++cache.reused;
    return *std::move(found);
  }
  auto ordering = ordering_for(key, cache);
  if (cache.make_room)
    cache.make_room();
  auto part = std::make_shared<CondensedSubstructure>(key, std::move(ordering),
                                                      cache.loads_per_substructure);
  ++cache.factorized;
  return cache.substructures.find_or_make(key,
                                          [&] { return part; }); // unless another thread came first
}

void retain_orderings(FactorizationCache& cache)
{
  for (const auto& part : cache.substructures.values())
    cache.orderings.insert(part->key(), part->factor().ordering());
  cache.substructures.clear();
}

void evict(const CondensedSubstructure& part, FactorizationCache& cache)
{
  cache.substructures.erase_if(
      [&](const SubstructureKey&, const auto& other) { return other.get() == &part; });
}

} // namespace hangtrue::substructuring
