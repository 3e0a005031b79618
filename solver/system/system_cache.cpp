// SPDX-License-Identifier: GPL-3.0-or-later
#include "solver/system/system_cache.hpp"

#include "meshing/quality/mesh_cache.hpp"

#include <algorithm>
#include <utility>

namespace hangtrue::system
{

namespace
{

std::vector<const mesh::BodyMesh*> bodies_of(const mesh::Mesh& mesh)
{
  std::vector<const mesh::BodyMesh*> bodies{&mesh.door, &mesh.frame};
  for (const auto& pin : mesh.pins)
    bodies.push_back(&pin);
  return bodies;
}

bool same_side(const contact::ContactSide& a, const contact::ContactSide& b)
{
  return a.body == b.body && std::equal(a.nodes.begin(), a.nodes.end(), b.nodes.begin(),
                                        b.nodes.end(), [](const auto& x, const auto& y) {
                                          return x.node == y.node && x.weight == y.weight;
                                        });
}

bool same_pair(const contact::ContactPair& a, const contact::ContactPair& b)
{
  return a.normal.x == b.normal.x && a.normal.y == b.normal.y && a.normal.z == b.normal.z &&
         same_side(a.outer, b.outer) && same_side(a.inner, b.inner);
}

} // namespace

bool SameSystem::operator()(const std::shared_ptr<const SystemKey>& a,
                            const std::shared_ptr<const SystemKey>& b) const
{
  return a->key == b->key && a->position == b->position && a->temperature == b->temperature &&
         a->jamb == b->jamb && a->pins == b->pins &&
         std::equal(a->nodes.begin(), a->nodes.end(), b->nodes.begin(), b->nodes.end(),
                    elasticity::same_field);
}

SystemCache::SystemCache()
    : systems({.count = 24}, [](const auto&, const auto& cached) { return bytes_of(*cached); })
{
}

std::shared_ptr<CachedDoorSystem> take_system(const door::Door& door, const mesh::Mesh& mesh,
                                              SystemCache& cache, DoorPosition position,
                                              const heat::ThermalState* thermal)
{
  const auto key = std::make_shared<SystemKey>();
  key->key = quality::mesh_key(door);
  key->position = position;
  if (thermal != nullptr) {
    key->temperature = thermal->temperature;
    key->jamb = thermal->summary.jamb;
    key->pins = thermal->summary.pins;
  }
  for (const auto* body : bodies_of(mesh))
    key->nodes.push_back(body->nodes);
  if (auto found = cache.systems.take(key))
    return *std::move(found);
  auto cached = std::make_shared<CachedDoorSystem>();
  cached->key = key;
  return cached;
}

void invalidate_columns_unless(const std::vector<contact::ContactPair>& pairs,
                               CachedDoorSystem& cached)
{
  if (!std::equal(pairs.begin(), pairs.end(), cached.pairs.begin(), cached.pairs.end(), same_pair))
    cached.columns.batches.clear();
  cached.pairs = pairs;
}

std::size_t bytes_of(const CachedDoorSystem& cached)
{
  std::size_t values = cached.key->temperature.size();
  const auto count = [&](const std::vector<elasticity::NodeField>& fields) {
    for (const auto& field : fields)
      values += 3 * field.size();
  };
  count(cached.key->nodes);
  count(cached.weight);
  count(cached.thermal_load);
  count(cached.error.displacements);
  count(cached.error.dual);
  for (const auto& batch : cached.columns.batches)
    for (const auto& column : batch.column)
      values += column.size();
  std::size_t bytes = sizeof(double) * values;
  for (const auto& body : cached.elastic)
    bytes += body->bytes();
  for (const auto& space : cached.spaces)
    bytes += space.bytes();
  return bytes;
}

namespace
{

// The same geometry but for the swing.
bool same_but_swing(const SystemKey& a, const SystemKey& b)
{
  door::Door turned = a.key;
  turned.swing = b.key.swing;
  return turned == b.key;
}

} // namespace

// The next door mostly is drawn as this one or as none before.
void store_system(std::shared_ptr<CachedDoorSystem> cached, SystemCache& cache)
{
  const auto key = cached->key;
  cache.systems.erase_if(
      [&](const auto& other, const auto&) { return !same_but_swing(*other, *key); });
  cache.systems.insert(key, std::move(cached));
}

} // namespace hangtrue::system
