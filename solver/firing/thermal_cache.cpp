// SPDX-License-Identifier: GPL-3.0-or-later
#include "solver/firing/thermal_cache.hpp"

#include "meshing/quality/mesh_cache.hpp"
#include "meshing/sweep/door_mesher.hpp"
#include "solver/heat/frame_temperature.hpp"

#include <algorithm>
#include <utility>

namespace hangtrue::firing
{

namespace
{

bool same_cells(const mesh::BodyMesh& a, const mesh::BodyMesh& b)
{
  return a.nodes.size() == b.nodes.size() &&
         std::equal(a.cells.begin(), a.cells.end(), b.cells.begin(), b.cells.end(),
                    [](const mesh::Hex27& x, const mesh::Hex27& y) {
                      return x.part == y.part && x.hinge == y.hinge && x.node == y.node;
                    });
}

} // namespace

door::Door thermal_key(door::Door door)
{
  const door::Fire fire = door.fire;
  const double gap = heat::face_gap(door);
  door::Opening slots = door.opening;
  slots.warp = 0.0;
  const auto conductivity = door.insulation.conductivity;
  door = quality::mesh_key(std::move(door));
  door.fire = fire;
  door.insulation.conductivity = conductivity;
  door.swing = 0.0;
  door.gasket = {};
  if (!(fire == door::Fire{})) { // the slots round the closed door, as the heat problem has them
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

bool ThermalKey::operator==(const ThermalKey& other) const
{
  return level == other.level && door == other.door && same_cells(*body, *other.body);
}

std::shared_ptr<CachedHeating> cached_heat_of(const door::Door& door, const mesh::BodyMesh& body,
                                              const door::RefinementLevel& level,
                                              ThermalCache& cache)
{
  ThermalKey key{thermal_key(door), level, {std::shared_ptr<void>(), &body}}; // owns no body yet
  if (auto found = cache.heats.find(key))
    return *std::move(found);
  auto result = std::make_shared<CachedHeating>();
  result->body = sweep::make_mesh(key.door, door::mesh_density(key.door, level)).door;
  result->door = key.door;
  if (!same_cells(result->body, body)) { // its own bores then, which no other door need have
    result->body = body;
    return result;
  }
  key.body = {result, &result->body};
  cache.heats.insert(std::move(key), result);
  return result;
}

const HeatingRun& cached_heating(CachedHeating& heat)
{
  if (!heat.warming)
    heat.warming = heat_up(heat.door, heat.body, {});
  return *heat.warming;
}

const std::vector<heat::ThermalState>&
cached_replay(CachedHeating& heat, const std::vector<heat::ThermalStateId>& requested)
{
  if (!heat.replay || heat.replay->wanted != requested)
    heat.replay = {requested, replay_states(heat.door, heat.body, requested, {})};
  return heat.replay->found;
}

} // namespace hangtrue::firing
