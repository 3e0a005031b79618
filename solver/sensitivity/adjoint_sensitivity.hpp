// SPDX-License-Identifier: GPL-3.0-or-later
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

namespace hangtrue::sensitivity
{

/// A thermal state in which sensitivities are wanted, and the position of the door.
struct SensitivityState {
  heat::ThermalStateId thermal;
  bool open = false;   ///< drop and, when hot, bow
  bool closed = false; ///< least squeeze
};

/// Derivative of one quantity of interest by one uncertain input.
struct Sensitivity {
  std::size_t input = 0;            ///< index in the list of uncertain inputs
  std::optional<double> derivative; ///< m per SI unit; nothing where the mesh is another one beside
};

/// One quantity of interest of one state with its sensitivities.
struct QoiSensitivities {
  qoi::QoiId id;
  double whole = 0.0; ///< m, on the mesh of the sensitivities
  double load_sensitivity =
      0.0; ///< N/m^2, tangent of the gasket's law there, for the least squeeze
  std::vector<Sensitivity> sensitivities;
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
/// cells. `report` is called with the fraction that is done. Throws ComputeError like the states
/// themselves.
std::vector<QoiSensitivities>
adjoint_sensitivities(const door::Door& door, const door::MeshDensity& fine,
                      const std::vector<SensitivityState>& states,
                      const std::vector<UncertainInput>& inputs,
                      const std::function<void(double share)>& report);

} // namespace hangtrue::sensitivity
