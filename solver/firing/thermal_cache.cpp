#include "solver/firing/thermal_cache.hpp"

#include "meshing/quality/mesh_cache.hpp"
#include "meshing/sweep/door_mesher.hpp"
#include "solver/heat/frame_temperature.hpp"

#include <algorithm>
#include <utility>

namespace hangtrue
{

namespace
{

bool same_cells(const BodyMesh& a, const BodyMesh& b)
{
  return a.nodes.size() == b.nodes.size() &&
         std::equal(a.cells.begin(), a.cells.end(), b.cells.begin(), b.cells.end(),
                    [](const Hex& x, const Hex& y) {
                      return x.part == y.part && x.hinge == y.hinge && x.node == y.node;
                    });
}

} // namespace

Door as_heated(Door door)
{
  const Fire fire = door.fire;
  const double gap = face_gap(door);
  Opening slots = door.opening;
  slots.warp = 0.0;
  const auto conductivity = door.insulation.conductivity;
  door = as_drawn(std::move(door));
  door.fire = fire;
  door.insulation.conductivity = conductivity;
  door.swing = 0.0;
  door.gasket = {};
  if (!(fire == Fire{})) { // the slots round the closed door, as the heat problem has them
    door.gasket.curve.emplace_back();
    door.gasket.set_gap = gap;
    door.opening = slots;
  }
  door.latches.clear();
  door.pin_steel = {};
  for (auto& hinge : door.hinges) {
    hinge.pin_diameter = 2.0 / 3.0 * hinge.outside_diameter;
    hinge.clearance = 0.0;
  }
  return door;
}

bool HeatKey::operator==(const HeatKey& other) const
{
  return levels == other.levels && door == other.door && same_cells(*body, *other.body);
}

std::shared_ptr<KeptHeat> heat_of(const Door& door, const BodyMesh& body, const Levels& levels,
                                  HeatCache& kept)
{
  HeatKey key{as_heated(door), levels, {std::shared_ptr<void>(), &body}}; // owns no body yet
  if (auto found = kept.heats.find(key))
    return *std::move(found);
  auto made = std::make_shared<KeptHeat>();
  made->body = loft(key.door, fineness(key.door, levels)).door;
  made->door = key.door;
  if (!same_cells(made->body, body)) { // its own bores then, which no other door need have
    made->body = body;
    return made;
  }
  key.body = {made, &made->body};
  kept.heats.insert(std::move(key), made);
  return made;
}

const Warming& warming_of(KeptHeat& heat)
{
  if (!heat.warming)
    heat.warming = warm(heat.door, heat.body, {});
  return *heat.warming;
}

const std::vector<WarmDoor>& heat_again(KeptHeat& heat, const std::vector<ThermalStateId>& wanted)
{
  if (!heat.again || heat.again->wanted != wanted)
    heat.again = {wanted, heat_again(heat.door, heat.body, wanted, {})};
  return heat.again->found;
}

} // namespace hangtrue
