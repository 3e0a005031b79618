// The instant of the warm-up at which the door bows most, found by computing it.
#pragma once

#include "meshing/door/door.hpp"
#include "meshing/mesh/mesh.hpp"
#include "solver/elasticity/elastic_body.hpp"
#include "solver/heat/door_heat_problem.hpp"
#include "solver/heat/thermal_state.hpp"

#include <functional>
#include <optional>
#include <vector>

namespace hangtrue
{

/// One point of the warm-up for a curve.
struct WarmPoint {
  double time = 0.0;       ///< s
  double gas = 0.0;        ///< degC
  double inner_skin = 0.0; ///< degC, mean
  double outer_skin = 0.0; ///< degC, mean
  double hand_bow = 0.0;   ///< m, middle against corners, from the means
};

/// The states of a firing that are worth a look, and the way there.
struct Firing {
  std::vector<WarmPoint> curve;
  std::vector<WarmDoor> states; ///< most bowed, chosen instants, steady; or as measured, alone
  std::vector<WarmInstant> way; ///< all steps of the warm-up
};

/// What stands out in a field of temperatures, degC per node of the door's body; time, gas and
/// energy error are left to the caller.
Warmth warmth_of(const Door& door, const BodyMesh& body, const std::vector<double>& at);

/// Temperatures, degC per node of the door's body, as a state.
WarmDoor state_at(const Door& door, const BodyMesh& body, const ThermalStateId& state,
                  std::vector<double> at, double energy_error);

/// A firing before its worst instant is chosen.
struct Warming {
  WarmUp way;                     ///< all steps; empty with measured skins
  std::optional<Firing> measured; ///< the one state of measured skins
};

/// Warms the door up by its schedule; measured skins take the place of the schedule. Throws
/// ComputeError when the temperatures do not settle.
Warming warm(const Door& door, const BodyMesh& body, const std::function<void(double share)>& told);

/// Chooses the worst instant: among all steps whose hand bow comes within a tenth of the largest,
/// the one whose elastic bow (free door, cold steel) is largest. Steady is under the hottest gas of
/// the schedule. `unit`, m per N, is the movement of the free cold door under `bow_forces`.
Firing choose_states(const Door& door, const BodyMesh& body, Warming warming,
                     const NodeField& unit);

/// Warms the door up and chooses the states; the free door is factored for it. Throws ComputeError
/// when the temperatures do not settle or nothing holds a part of the door.
Firing fire_door(const Door& door, const BodyMesh& body,
                 const std::function<void(double share)>& told);

} // namespace hangtrue
