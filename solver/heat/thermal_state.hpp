// SPDX-License-Identifier: GPL-3.0-or-later
// Temperatures of the door in one thermal state, and their summary.
#pragma once

#include "solver/heat/thermal_state_id.hpp"

#include <vector>

namespace hangtrue::heat
{

/// Temperature summary of a thermal state, degC, and the hand check of its bow.
struct TemperatureSummary {
  double time = 0.0; ///< s from the start of the firing
  double gas = 0.0;
  double inner_skin = 0.0; ///< mean of the whole skin
  double outer_skin = 0.0;
  double outside_middle = 0.0;  ///< middle of the outer skin
  double outside_hottest = 0.0; ///< anywhere on the outer skin
  double hottest = 0.0;         ///< of all steel
  double knuckles = 0.0;        ///< mean of the door's knuckles
  double frame_face = 0.0;      ///< of the frame face opposite the closed door's edges
  double jamb = 0.0;       ///< of jamb and frame leaves, given or as the outer skin at the hinges
  double pins = 0.0;       ///< mean of the door's knuckles and the jamb
  double rim = 0.0;        ///< mean of the rim tubes
  double hinge_edge = 0.0; ///< mean of the panel's steel over the rim's width at the hinges
  double outside_by_film = 0.0;  ///< K, on `outside_hottest`, per fraction lost of the outside film
  double outside_by_frame = 0.0; ///< K, on it, per fraction added to the frame face's excess
  double estimated_bow = 0.0;    ///< m, middle against corners
  double energy_error = 0.0;     ///< heat in less out and stored, relative to the throughput
};

/// Temperatures of the door's nodes in a thermal state; jamb and frame leaves are all at one
/// temperature and a pin takes the mean of the door's knuckles and the jamb.
struct ThermalState {
  ThermalStateId state;
  std::vector<double> temperature; ///< degC, per node of Mesh::door
  TemperatureSummary summary;
};

} // namespace hangtrue::heat
