// SPDX-License-Identifier: GPL-3.0-or-later
#include "solver/analysis/analysis_cache.hpp"

#include <algorithm>
#include <utility>

namespace hangtrue::analysis
{

AnalysisCache::AnalysisCache(const CachePolicy& policy)
    : factors(
          [this](const substructuring::SubstructureKey&, const auto&) { systems.systems.clear(); }),
      policy_(policy)
{
  constexpr std::size_t of_one_door = 6; // loads: all, those without heat, heat alone, duals
  factors.substructures.set_limits({.bytes = policy.max_bytes});
  factors.make_room = [this] { make_room(); };
  if (!policy.reuse_across_doors)
    factors.loads_per_substructure = of_one_door;
}

void AnalysisCache::limit_bytes(std::size_t bytes)
{
  policy_.max_bytes = std::min(policy_.max_bytes, bytes);
  factors.substructures.set_limits({.bytes = policy_.max_bytes});
}

// Systems, which are cheap to make from their parts, go first.
void AnalysisCache::make_room()
{
  if (factors.substructures.bytes() + systems.systems.bytes() > policy_.max_bytes)
    systems.systems.clear();
  factors.substructures.make_room();
}

// Of one door only the cold open one comes again: worn, and free under what bows it.
std::shared_ptr<system::CachedDoorSystem>
AnalysisCache::take_system(const door::Door& door, const mesh::Mesh& mesh,
                           system::DoorPosition position, const heat::ThermalState* state)
{
  const bool again = position == system::DoorPosition::open && state == nullptr;
  return again || policy_.reuse_across_doors
             ? system::take_system(door, mesh, systems, position, state)
             : nullptr;
}

void AnalysisCache::store_system(std::shared_ptr<system::CachedDoorSystem> system)
{
  if (system != nullptr)
    system::store_system(std::move(system), systems);
}

void AnalysisCache::release(const substructuring::SubstructuredBody& body)
{
  if (!policy_.reuse_across_doors)
    body.evict_base(factors);
}

void AnalysisCache::release_factors()
{
  if (!policy_.reuse_across_doors)
    substructuring::retain_orderings(factors);
}

firing::HeatingRun AnalysisCache::take_heating_run(firing::CachedHeating& heat) const
{
  if (policy_.reuse_across_doors)
    return *heat.warming;
  firing::HeatingRun taken = std::move(*heat.warming);
  heat.warming.reset();
  return taken;
}

void AnalysisCache::release_systems()
{
  if (!policy_.reuse_across_doors)
    systems.systems.clear();
}

} // namespace hangtrue::analysis
