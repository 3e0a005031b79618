// Sensitivities of the quantities of interest to sizes and properties of the door, by one adjoint
// each.
#pragma once

#include "meshing/door/mesh_density.hpp"
#include "solver/analysis/closed_analysis.hpp"
#include "solver/qoi/contribution_split.hpp"
#include "solver/sensitivity/uncertain_inputs.hpp"

#include <functional>
#include <optional>
#include <vector>

namespace hangtrue
{

/// A thermal state in which sensitivities are wanted, and the position of the door.
struct SensitivityState {
  ThermalStateId thermal;
  bool open = false;   ///< drop and, when hot, bow
  bool closed = false; ///< least squeeze
};

/// Derivative of one quantity of interest by one uncertain input.
struct Slope {
  std::size_t nudge = 0;       ///< index in the list of uncertain inputs
  std::optional<double> value; ///< m per SI unit; nothing where the mesh is another one beside
};

/// One quantity of interest of one state with its sensitivities.
struct QoiSensitivities {
  QoiId id;
  double whole = 0.0;      ///< m, on the mesh of the sensitivities
  double load_slope = 0.0; ///< N/m^2, tangent of the gasket's law there, for the least squeeze
  std::vector<Slope> slopes;
};

/// Sensitivities of drop, bow and least squeeze on a mesh of that density (the coarsest will do: a
/// sensitivity needs no more than a few per cent). With the adjoint v, q of a quantity J and the
/// whole solution (u, contact forces p) fixed,
///
///   dJ = d [ v . f + v . h - v . K u  +  sum of p (B v) + q (g + c p + B u)  +  unit . u ]
///
/// where f are loads, h free strain, K stiffness, B the gap changes of the contact pairs, g and c
/// their gaps and compliances, all of the changed door on the same nodes: exact to first order
/// while the active set stays the same, and no factorization is needed (adjoint method; Haftka and
/// Guerdal, Elements of Structural Optimization, ch. 7, from memory). Temperatures of the changed
/// door are computed anew. Central differences; one-sided where the mesh of one side has other
/// cells. `told` is called with the fraction that is done. Throws ComputeError like the states
/// themselves.
std::vector<QoiSensitivities> adjoint_sensitivities(const Door& door, const Fineness& fine,
                                                    const std::vector<SensitivityState>& states,
                                                    const std::vector<Nudge>& nudges,
                                                    const std::function<void(double share)>& told);

} // namespace hangtrue
