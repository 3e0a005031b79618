#include "solver/system/state_id.hpp"

#include <fmt/format.h>

namespace hangtrue
{

namespace
{

// What comes between "open" or "closed" and the thermal state.
const char* joint_of(ThermalCase which)
{
  switch (which) {
  case ThermalCase::cold:
  case ThermalCase::at_temperature:
  case ThermalCase::instant:
  case ThermalCase::steady:
    return " ";
  case ThermalCase::most_bowed:
  case ThermalCase::gasket_loosest:
  case ThermalCase::measured_skins:
  case ThermalCase::cooled:
    return ", ";
  }
  return " ";
}

} // namespace

std::string thermal_label(const ThermalStateId& thermal)
{
  const double minutes = thermal.time / 60.0;
  switch (thermal.which) {
  case ThermalCase::cold:
    return "cold";
  case ThermalCase::at_temperature:
    return "at temperature";
  case ThermalCase::most_bowed:
    return fmt::format("most bowed at {:.0f} min", minutes);
  case ThermalCase::instant:
    return fmt::format("at {:.0f} min", minutes);
  case ThermalCase::gasket_loosest:
    return fmt::format("gasket loosest at {:.0f} min", minutes);
  case ThermalCase::steady:
    return "hot, steady";
  case ThermalCase::measured_skins:
    return "skins as measured";
  case ThermalCase::cooled:
    return "cooled again";
  }
  return "";
}

std::string state_label(const StateId& state)
{
  return (state.position == Standing::open ? "open" : "closed") +
         std::string(joint_of(state.thermal.which)) + thermal_label(state.thermal);
}

} // namespace hangtrue
