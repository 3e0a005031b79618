// SPDX-License-Identifier: GPL-3.0-or-later
// Fields of all bodies of an open door in one state.
#pragma once

#include "meshing/door/door.hpp"
#include "meshing/mesh/mesh.hpp"
#include "solver/analysis/open_result.hpp"
#include "solver/field_output/state_file.hpp"
#include "solver/heat/thermal_state.hpp"

#include <vector>

namespace hangtrue::field_output
{

/// Fields of door, frame and floating pins, in the order of system::DoorSystem::bodies; `thermal`
/// is the state's heat, null when cold, and must outlive them.
std::vector<StateFields> open_state_fields(const door::Door& door, const mesh::Mesh& mesh,
                                           const analysis::OpenDoorResult& open,
                                           const heat::ThermalState* thermal);

} // namespace hangtrue::field_output
