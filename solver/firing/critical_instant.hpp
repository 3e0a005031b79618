// SPDX-License-Identifier: GPL-3.0-or-later
// The critical instant of the warm-up: when the door bows most.
#pragma once

#include "meshing/door/door.hpp"
#include "meshing/mesh/mesh.hpp"
#include "solver/elasticity/elastic_body.hpp"
#include "solver/heat/door_heat_problem.hpp"
#include "solver/heat/thermal_state.hpp"

#include <functional>
#include <optional>
#include <vector>

namespace hangtrue::firing
{

/// One point of the warm-up for a curve.
struct HeatingCurvePoint {
  double time = 0.0;          ///< s
  double gas = 0.0;           ///< degC
  double inner_skin = 0.0;    ///< degC, mean
  double outer_skin = 0.0;    ///< degC, mean
  double estimated_bow = 0.0; ///< m, middle against corners, from the means
};

/// The load cases of a firing, and its heating history.
struct ThermalLoadCases {
  std::vector<HeatingCurvePoint> curve;
  std::vector<heat::ThermalState>
      states; ///< most bowed, chosen instants, steady; or as measured, alone
  std::vector<heat::HeatingStep> history; ///< all steps of the warm-up
};

/// Summary of a temperature field, degC per node of the door's body; time, gas and energy error are
/// left to the caller.
heat::TemperatureSummary temperature_summary(const door::Door& door,
                                             const fe::Discretization& space,
                                             const std::vector<double>& temperature);

/// Temperatures, degC per node of the door's body, as a state.
heat::ThermalState thermal_state_at(const door::Door& door, const fe::Discretization& space,
                                    const heat::ThermalStateId& state,
                                    std::vector<double> temperature, double energy_error);

/// A firing before its critical instant is chosen.
struct HeatingRun {
  heat::HeatingHistory history;             ///< all steps; empty with measured skins
  std::optional<ThermalLoadCases> measured; ///< the one state of measured skins
};

/// Integrates the heating by the schedule; measured skins take the place of the schedule. Throws
/// ComputeError when the temperatures do not converge.
HeatingRun heat_up(const door::Door& door, const mesh::BodyMesh& body,
                   const std::function<void(double share)>& report);

/// Chooses the critical instant: among all steps whose bow by hand formula comes within a tenth of
/// the largest, the one whose elastic bow (free door, cold steel) is largest. Steady is under the
/// hottest gas of the schedule. `unit`, m per N, is the displacement of the free cold door under
/// `bow_forces`.
ThermalLoadCases select_thermal_states(const door::Door& door, const mesh::BodyMesh& body,
                                       HeatingRun run, const elasticity::NodeField& unit);

/// Integrates the heating and chooses the states; the free door is factorized for it. Throws
/// ComputeError when the temperatures do not converge or a part of the door is unsupported.
ThermalLoadCases analyse_firing(const door::Door& door, const mesh::BodyMesh& body,
                                const std::function<void(double share)>& report);

} // namespace hangtrue::firing
