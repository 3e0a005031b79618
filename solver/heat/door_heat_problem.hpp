// SPDX-License-Identifier: GPL-3.0-or-later
// The heat problem of the door in its fire: steady and transient temperatures, and the bow by hand
// formula.
#pragma once

#include "meshing/door/door.hpp"
#include "meshing/mesh/mesh.hpp"
#include "solver/heat/heat_equation.hpp"

#include <functional>
#include <vector>

namespace hangtrue::heat
{

/// Estimated error of one step of the warm-up, K: a hundredth of what bows a door visibly.
inline constexpr double warm_up_tolerance = 2.0;

/// Surfaces of the door: inside the gasket line, in the open room, and those that face the frame
/// across a slot while the door is closed: the inner skin outside the gasket line, and the edges.
enum : int {
  fire_side = 0,
  room_side = 1,
  face_slot = 2,
  hinge_slot = 3,
  latch_slot = 4,
  lower_slot = 5,
  upper_slot = 6
};

/// Heat problem of the panel with its hinge halves: steel by EN 1993-1-2, insulation by its table,
/// closed air in the hollows; the fire inside the gasket line of the inner skin, the frame over the
/// reveal and the set gap before the edges and the rest of that skin
/// (solver/heat/frame_temperature), the room everywhere else but in the bores, which their pins
/// fill.
HeatProblem door_heat_problem(const door::Door& door, const fe::Discretization& space);

/// Sensitivity of the steady temperatures to two uncertain inputs, K per node and per fraction (1:
/// the whole): an outside film that is less by that fraction, and a frame face whose excess over
/// the room is more by it. First order.
struct HeatUncertainty {
  std::vector<double> by_film;
  std::vector<double> by_frame;
};
/// Found from the solver of the steady temperatures, degC per node, by one linear solution each.
HeatUncertainty heat_uncertainty(const door::Door& door, const HeatSolver& solver,
                                 const std::vector<double>& steady);

/// Mean temperatures of the whole skins, degC.
struct SkinMeans {
  double inner = 0.0;
  double outer = 0.0;
};
/// Means over the areas of the skins of temperatures, degC per node.
SkinMeans skin_means(const fe::Discretization& space, const std::vector<double>& temperature);

/// Bow of the middle against the corners, m, of a free door whose skins grow by their mean
/// temperatures: (e_inner - e_outer) (W^2 + H^2) / (8 d), d between the middles of the skins
/// (two-skin curvature of a sandwich, Timoshenko). A hand check.
double estimated_bow(const door::Door& door, const SkinMeans& means);

/// One instant of the warm-up.
struct HeatingStep {
  double time = 0.0; ///< s
  double gas = 0.0;  ///< degC
  SkinMeans means;
  double estimated_bow = 0.0;      ///< m, bow by hand formula
  int iterations = 0;              ///< rounds that the step took
  std::vector<double> temperature; ///< degC, at every node
};

/// The whole warm-up by the schedule, from ambient, with every accepted step; `largest_imbalance`
/// is the worst closing error of the energy over all steps.
struct HeatingHistory {
  std::vector<HeatingStep> instants;
  TemperatureField steady;     ///< under the last gas temperature, stationary
  HeatUncertainty uncertainty; ///< of the steady temperatures
  double largest_imbalance = 0.0;
};
/// Integrates the firing from ambient; `report` is called with the share of it that is done. Throws
/// ComputeError like the heat solver.
HeatingHistory integrate_heating(const door::Door& door, const mesh::BodyMesh& body,
                                 const std::function<void(double share)>& report);

} // namespace hangtrue::heat
