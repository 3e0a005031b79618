// The door in its fire: temperatures steady and in time, and the instant at which it bows most.
#pragma once

#include "meshing/door.hpp"
#include "meshing/mesh.hpp"
#include "solver/conduction.hpp"

#include <functional>
#include <vector>

namespace hangtrue
{

/// Estimated error of one step of the warm-up, K: a hundredth of what moves a door visibly.
inline constexpr double warm_up_tolerance = 2.0;

/// Surfaces of the door.
enum : int { fire_side = 0, room_side = 1 };

/// Gas temperature, degC, at a time, s: linear between points, held after the last.
double gas_at(const Fire& fire, double time);

/// Time at which the schedule is hottest, s.
double hottest_time(const Fire& fire);

/// Heat problem of the panel with its hinge halves: steel by EN 1993-1-2, insulation by its table,
/// closed air in the hollows; the fire inside the gasket line of the inner skin, the room
/// everywhere else but in the bores, which their pins fill.
HeatProblem door_heat_problem(const Door& door, const BodyMesh& body);

/// Mean temperatures of the whole skins, degC.
struct SkinMeans {
  double inner = 0.0;
  double outer = 0.0;
};
SkinMeans skin_means(const BodyMesh& body, const std::vector<double>& at);

/// Bow of the middle against the corners, m, of a free door whose skins grow by their mean
/// temperatures: (e_inner - e_outer) (W^2 + H^2) / (8 d), d between the middles of the skins
/// (two-skin curvature of a sandwich, Timoshenko). A hand check.
double hand_bow(const Door& door, const SkinMeans& means);

/// One instant of the warm-up.
struct WarmInstant {
  double time = 0.0; ///< s
  double gas = 0.0;  ///< degC
  SkinMeans means;
  double hand = 0.0;      ///< m, hand bow
  int iterations = 0;     ///< rounds that the step took
  std::vector<double> at; ///< degC, at every node
};

/// The whole warm-up by the schedule, from ambient, with every accepted step; `largest_imbalance`
/// is the worst closing error of the energy over all steps.
struct WarmUp {
  std::vector<WarmInstant> instants;
  Temperatures steady; ///< under the last gas temperature, for ever
  double largest_imbalance = 0.0;
};
WarmUp warm_up(const Door& door, const BodyMesh& body,
               const std::function<void(double share)>& told);

} // namespace hangtrue
