// SPDX-License-Identifier: GPL-3.0-or-later
#include "meshing/quality/mesh_cache.hpp"

#include "meshing/sweep/door_mesher.hpp"

namespace hangtrue::quality
{

door::Door mesh_key(door::Door door)
{
  door.name.clear();
  door.shop.clear();
  door.handle = {};
  door.opening = {};
  door.insulation.conductivity.clear();
  const double inset = door.fire.gasket_inset;
  door.fire = {};
  door.fire.gasket_inset = inset;
  const bool pressed = !door.gasket.curve.empty();
  const double corner = door.gasket.corner;
  door.gasket = {};
  door.gasket.corner = corner;
  if (pressed)
    door.gasket.curve.emplace_back();
  for (auto& latch : door.latches) {
    const door::Latch all = latch;
    latch = {};
    latch.edge = all.edge;
    latch.position = all.position;
    latch.inset = all.inset;
  }
  for (auto& hinge : door.hinges) {
    hinge.end_float = 0.0;
    hinge.carries_weight = true;
    for (auto& knuckle : hinge.knuckles) {
      knuckle.worn.clear();
      knuckle.wearing = 0.0;
    }
  }
  return door;
}

std::shared_ptr<CachedMesh> cached_mesh(const door::Door& door, const door::RefinementLevel& level,
                                        MeshCache& cache)
{
  return cache.meshes.find_or_make({mesh_key(door), level}, [&] {
    auto result = std::make_shared<CachedMesh>();
    result->mesh = sweep::make_mesh(door, door::mesh_density(door, level));
    result->level = level;
    return result;
  });
}

std::shared_ptr<const CachedMesh>
cached_inspected_mesh(const door::Door& door, const door::RefinementLevel& level, MeshCache& cache)
{
  auto result = cached_mesh(door, level, cache);
  if (!result->quality)
    result->quality = inspect(result->mesh, door);
  return result;
}

} // namespace hangtrue::quality
