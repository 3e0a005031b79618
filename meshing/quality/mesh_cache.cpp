#include "meshing/quality/mesh_cache.hpp"

#include "meshing/sweep/door_mesher.hpp"

#include <algorithm>
#include <utility>

namespace hangtrue
{

Door as_drawn(Door door)
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
    const Latch all = latch;
    latch = {};
    latch.edge = all.edge;
    latch.at = all.at;
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

std::shared_ptr<KeptMesh> mesh_of(const Door& door, const Levels& levels, KeptMeshes& kept)
{
  constexpr std::size_t most = 5; // the levels commonly used, two of them closed as well
  Door drawn = as_drawn(door);
  const std::lock_guard<std::mutex> alone(*kept.alone);
  auto& meshes = kept.meshes;
  const auto found = std::find_if(meshes.begin(), meshes.end(), [&](const auto& one) {
    return one->levels == levels && one->drawn == drawn;
  });
  if (found != meshes.end()) {
    std::rotate(found, found + 1, meshes.end());
    return meshes.back();
  }
  auto made = std::make_shared<KeptMesh>();
  made->mesh = loft(door, fineness(door, levels));
  made->drawn = std::move(drawn);
  made->levels = levels;
  if (meshes.size() == most)
    meshes.erase(meshes.begin());
  meshes.push_back(std::move(made));
  return meshes.back();
}

std::shared_ptr<const KeptMesh> inspected_mesh(const Door& door, const Levels& levels,
                                               KeptMeshes& kept)
{
  auto made = mesh_of(door, levels, kept);
  if (!made->inspected)
    made->inspected = inspect(made->mesh, door);
  return made;
}

} // namespace hangtrue
