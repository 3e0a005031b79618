#include "solver/substructuring/factorization_cache.hpp"

#include "solver/substructuring/condensed_substructure.hpp"

#include <utility>

namespace hangtrue
{

FactoredBodies::FactoredBodies(Parts::OnEviction evicted)
    : parts(
          {}, [](const PartKey&, const auto& part) { return part->bytes(); }, std::move(evicted))
{
}

namespace
{

// That of the part used last with the same cells, in another size: it is as good.
std::shared_ptr<const FactorOrdering> ordering_for(const PartKey& content, FactoredBodies& kept)
{
  const auto like = kept.parts.latest_if(
      [&](const PartKey& key, const auto&) { return same_pattern(*key, *content); });
  return like ? (*like)->factor().ordering() : kept.orderings.find(content).value_or(nullptr);
}

} // namespace

std::shared_ptr<FactoredPart> factored(PartContent content, FactoredBodies& kept)
{
  const auto key = std::make_shared<const PartContent>(on_grid(std::move(content)));
  if (auto found = kept.parts.find(key)) {
    ++kept.reused;
    return *std::move(found);
  }
  auto ordering = ordering_for(key, kept);
  if (kept.make_room)
    kept.make_room();
  auto part = std::make_shared<FactoredPart>(key, std::move(ordering), kept.loads_per_part);
  ++kept.made;
  return kept.parts.find_or_make(key, [&] { return part; }); // unless another thread came first
}

void retain_orderings(FactoredBodies& kept)
{
  for (const auto& part : kept.parts.values())
    kept.orderings.insert(part->key(), part->factor().ordering());
  kept.parts.clear();
}

void forget(const FactoredPart& part, FactoredBodies& kept)
{
  kept.parts.erase_if([&](const PartKey&, const auto& other) { return other.get() == &part; });
}

} // namespace hangtrue
