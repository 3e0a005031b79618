// SPDX-License-Identifier: GPL-3.0-or-later
#include "solver/field_output/open_state_fields.hpp"

#include "solver/system/door_system.hpp"

#include <utility>

namespace hangtrue::field_output
{

std::vector<StateFields> open_state_fields(const door::Door& door, const mesh::Mesh& mesh,
                                           const analysis::OpenDoorResult& open,
                                           const heat::ThermalState* thermal)
{
  const system::DoorElasticity elasticity = system::door_elasticity(door, thermal);
  std::vector<StateFields> result{{open.door_displacement, {}, {}, elasticity.of_door},
                                  {open.frame_displacement, {}, {}, elasticity.of_frame}};
  for (const auto& pin : open.pin_displacements)
    result.push_back({pin, {}, {}, elasticity.of_frame});
  if (thermal == nullptr)
    return result;
  result[contact::door_body].temperature = thermal->temperature;
  auto strains = system::body_strains(door, mesh, *thermal);
  for (std::size_t b = 0; b < result.size(); ++b)
    result[b].free_strain = std::move(strains[b]);
  return result;
}

} // namespace hangtrue::field_output
