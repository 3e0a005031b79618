// SPDX-License-Identifier: GPL-3.0-or-later
// Which of its thermal states a door is in.
#pragma once

namespace hangtrue::heat
{

/// The thermal states in a check of a door.
enum class ThermalCase {
  cold,
  at_temperature, ///< all of it at one temperature that is not cold to the hand
  most_bowed,     ///< at the instant of the firing at which it bows most
  instant,        ///< at an instant that the door file requests
  gasket_loosest, ///< at the instant at which the gasket presses least
  steady,         ///< under the hottest gas, stationary
  measured_skins, ///< with skins as measured
  cooled          ///< cold again after the firing
};

/// One thermal state.
struct ThermalStateId {
  ThermalCase which = ThermalCase::cold;
  double time = 0.0; ///< s from the start of the firing; 0 without one

  bool operator==(const ThermalStateId&) const = default;
};

/// True where temperatures do not depend on time: steady, or skins as measured.
inline bool is_steady(const ThermalStateId& id)
{
  return id.which == ThermalCase::steady || id.which == ThermalCase::measured_skins;
}

/// True while a fire burns behind the door.
inline bool is_hot(const ThermalStateId& id)
{
  return is_steady(id) || id.which == ThermalCase::most_bowed || id.which == ThermalCase::instant ||
         id.which == ThermalCase::gasket_loosest;
}

} // namespace hangtrue::heat
