#include "meshing/quality/mesh_cache.hpp"

#include "meshing/sweep/door_mesher.hpp"

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
  return kept.meshes.find_or_make({as_drawn(door), levels}, [&] {
    auto made = std::make_shared<KeptMesh>();
    made->mesh = loft(door, fineness(door, levels));
    made->levels = levels;
    return made;
  });
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
