// SPDX-License-Identifier: GPL-3.0-or-later
#include "solver/system/state_id.hpp"

#include <fmt/format.h>

namespace hangtrue::system
{

namespace
{

// What comes between "open" or "closed" and the thermal state.
const char* joint_of(heat::ThermalCase which)
{
  switch (which) {
  case heat::ThermalCase::cold:
  case heat::ThermalCase::at_temperature:
  case heat::ThermalCase::instant:
  case heat::ThermalCase::steady:
    return " ";
  case heat::ThermalCase::most_bowed:
  case heat::ThermalCase::gasket_loosest:
  case heat::ThermalCase::measured_skins:
  case heat::ThermalCase::cooled:
    return ", ";
  }
  return " ";
}

} // namespace

std::string thermal_label(const heat::ThermalStateId& thermal)
{
  const double minutes = thermal.time / 60.0;
  switch (thermal.which) {
  case heat::ThermalCase::cold:
    return "cold";
  case heat::ThermalCase::at_temperature:
    return "at temperature";
  case heat::ThermalCase::most_bowed:
    return fmt::format("most bowed at {:.0f} min", minutes);
  case heat::ThermalCase::instant:
    return fmt::format("at {:.0f} min", minutes);
  case heat::ThermalCase::gasket_loosest:
    return fmt::format("gasket loosest at {:.0f} min", minutes);
  case heat::ThermalCase::steady:
    return "hot, steady";
  case heat::ThermalCase::measured_skins:
    return "skins as measured";
  case heat::ThermalCase::cooled:
    return "cooled again";
  }
  return "";
}

std::string state_label(const StateId& state)
{
  return (state.position == DoorPosition::open ? "open" : "closed") +
         std::string(joint_of(state.thermal.which)) + thermal_label(state.thermal);
}

} // namespace hangtrue::system
