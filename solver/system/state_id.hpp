// SPDX-License-Identifier: GPL-3.0-or-later
// The state of a door that a number belongs to: its position and its thermal state.
#pragma once

#include "solver/heat/thermal_state_id.hpp"
#include "solver/system/door_position.hpp"

#include <string>

namespace hangtrue::system
{

/// One load state of a door.
struct StateId {
  DoorPosition position = DoorPosition::open;
  heat::ThermalStateId thermal{};

  bool operator==(const StateId&) const = default;
};

/// Label of the state: "open, most bowed at 44 min". For texts alone, never to compare.
std::string state_label(const StateId& state);

/// The same without the position: "most bowed at 44 min".
std::string thermal_label(const heat::ThermalStateId& thermal);

} // namespace hangtrue::system
