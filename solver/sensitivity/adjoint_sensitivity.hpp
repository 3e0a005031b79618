// How the answers change with the sizes and properties of the door, from one adjoint each.
#pragma once

#include "meshing/door/mesh_density.hpp"
#include "solver/analysis/closed_analysis.hpp"
#include "solver/qoi/contribution_split.hpp"
#include "solver/sensitivity/uncertain_inputs.hpp"

#include <functional>
#include <optional>
#include <string>
#include <vector>

namespace hangtrue
{

/// Temperatures of a state: one for the whole door, those of an instant of the warm-up, or steady.
enum class StateHeat { none, at_time, steady };

/// A state for which slopes are wanted.
struct SlopeState {
  std::string open{};   ///< name of the open state; empty: none
  std::string closed{}; ///< name of the closed state; empty: none
  StateHeat heat = StateHeat::none;
  double time = 0.0; ///< s, of an instant of the warm-up
};

/// Derivative of one answer by one nudge.
struct Slope {
  std::size_t nudge = 0;       ///< place in the list of nudges
  std::optional<double> value; ///< m per SI unit; nothing where the mesh is another one beside
};

/// One answer of one state with its slopes.
struct AnswerSlopes {
  std::string state;
  std::string answer;
  double whole = 0.0;      ///< m, on the mesh of the slopes
  double load_slope = 0.0; ///< N/m^2, of the gasket there, for the least squeeze
  std::vector<Slope> slopes;
};

/// Slopes of drop, bow and least squeeze on a mesh of that fineness (the coarsest will do: a slope
/// needs no more than a few per cent). With the adjoint v, q of an answer and everything that was
/// solved (u, pushes p) kept as it is,
///
///   d answer = d [ v . f + v . h - v . K u  +  sum of p (B v) + q (g + c p + B u)  +  unit . u ]
///
/// where f are loads, h free strain, K stiffness, B the opening of the contact points, g and c
/// their gaps and compliances, all of the changed door on the same nodes: exact to first order
/// while the same points carry, and no factor is needed (adjoint method; Haftka and Guerdal,
/// Elements of Structural Optimization, ch. 7, from memory). Temperatures of the changed door are
/// computed anew. Central differences; one-sided where the mesh of one side has other cells. `told`
/// hears the share that is done. Throws ComputeError like the states themselves.
std::vector<AnswerSlopes> answer_slopes(const Door& door, const Fineness& fine,
                                        const std::vector<SlopeState>& states,
                                        const std::vector<Nudge>& nudges,
                                        const std::function<void(double share)>& told);

} // namespace hangtrue
