#include "solver/firing/thermal_cache.hpp"

#include "meshing/quality/mesh_cache.hpp"
#include "meshing/sweep/door_mesher.hpp"
#include "solver/heat/frame_temperature.hpp"

#include <algorithm>
#include <mutex>
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

std::shared_ptr<KeptHeat> heat_of(const Door& door, const BodyMesh& body, const Levels& levels,
                                  FactoredBodies& kept)
{
  constexpr std::size_t most = 3; // the levels of a check
  auto& heats = kept.heats;
  Door heated = as_heated(door);
  const std::lock_guard<std::mutex> alone(*kept.alone);
  const auto found = std::find_if(heats.begin(), heats.end(), [&](const auto& one) {
    return one->levels == levels && one->door == heated && same_cells(one->body, body);
  });
  if (found != heats.end()) {
    std::rotate(found, found + 1, heats.end());
    return heats.back();
  }
  auto made = std::make_shared<KeptHeat>();
  made->body = loft(heated, fineness(heated, levels)).door;
  made->door = std::move(heated);
  made->levels = levels;
  if (!same_cells(made->body, body)) { // its own bores then, which no other door need have
    made->body = body;
    return made;
  }
  if (heats.size() == most)
    heats.erase(heats.begin());
  heats.push_back(std::move(made));
  return heats.back();
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
