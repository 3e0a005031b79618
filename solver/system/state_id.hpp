// Which state of a door a number is of: how it stands and how hot it is.
#pragma once

#include "solver/heat/thermal_state_id.hpp"
#include "solver/system/door_position.hpp"

#include <string>

namespace hangtrue
{

/// One load state of a door.
struct StateId {
  Standing position = Standing::open;
  ThermalStateId thermal{};

  bool operator==(const StateId&) const = default;
};

/// What a reader calls the state: "open, most bowed at 44 min". For texts alone, never to compare.
std::string state_label(const StateId& state);

/// The same without how the door stands: "most bowed at 44 min".
std::string thermal_label(const ThermalStateId& thermal);

} // namespace hangtrue
