#include "solver/analysis/analysis_cache.hpp"

#include <algorithm>
#include <utility>

namespace hangtrue
{

AnalysisCache::AnalysisCache(const CachePolicy& policy)
    : factors([this](const PartKey&, const auto&) { systems.systems.clear(); }), policy_(policy)
{
  constexpr std::size_t of_one_door = 6; // loads: all, those without heat, heat alone, duals
  factors.parts.set_limits({.bytes = policy.max_bytes});
  factors.make_room = [this] { make_room(); };
  if (!policy.reuse_across_doors)
    factors.loads_per_part = of_one_door;
}

void AnalysisCache::limit_bytes(std::size_t bytes)
{
  policy_.max_bytes = std::min(policy_.max_bytes, bytes);
  factors.parts.set_limits({.bytes = policy_.max_bytes});
}

// Systems, which are cheap to make from their parts, go first.
void AnalysisCache::make_room()
{
  if (factors.parts.bytes() + systems.systems.bytes() > policy_.max_bytes)
    systems.systems.clear();
  factors.parts.make_room();
}

// Of one door only the cold open one comes again: worn, and free under what bows it.
std::shared_ptr<KeptHang> AnalysisCache::take_system(const Door& door, const Mesh& mesh,
                                                     Standing standing, const WarmDoor* warm)
{
  const bool again = standing == Standing::open && warm == nullptr;
  return again || policy_.reuse_across_doors ? take_hang(door, mesh, systems, standing, warm)
                                             : nullptr;
}

void AnalysisCache::put_system(std::shared_ptr<KeptHang> system)
{
  if (system != nullptr)
    keep_hang(std::move(system), systems);
}

void AnalysisCache::release(const JoinedBody& body)
{
  if (!policy_.reuse_across_doors)
    body.forget_carrier(factors);
}

void AnalysisCache::release_factors()
{
  if (!policy_.reuse_across_doors)
    retain_orderings(factors);
}

Warming AnalysisCache::take_warming(KeptHeat& heat) const
{
  if (policy_.reuse_across_doors)
    return *heat.warming;
  Warming taken = std::move(*heat.warming);
  heat.warming.reset();
  return taken;
}

void AnalysisCache::release_systems()
{
  if (!policy_.reuse_across_doors)
    systems.systems.clear();
}

} // namespace hangtrue
