// SPDX-License-Identifier: GPL-3.0-or-later
// Residual of the Lagrangian: primal and adjoint fields of a solved door in a slightly changed
// door.
#pragma once

#include "solver/heat/thermal_state.hpp"
#include "solver/qoi/contribution_split.hpp"
#include "solver/system/door_position.hpp"
#include "solver/system/door_system.hpp"

#include <vector>

namespace hangtrue::sensitivity
{

/// A door with its mesh, heat and contact points, none of it solved.
struct PerturbedModel {
  const door::Door& door;
  const mesh::Mesh& mesh;
  const heat::ThermalState* thermal = nullptr; ///< nothing: at the one temperature
  system::DoorPosition standing = system::DoorPosition::open;
  std::vector<contact::ContactPair> pairs; ///< gaps, m, and compliances, m/N
};

/// v . f + v . h - v . K u + sum of p (B v) + q (g + c p + B u), in m (N m per N): the change of a
/// quantity of interest with the door while the fields stay (adjoint_sensitivities). The mesh must
/// have the nodes and cells of that of the fields, the points their order.
double lagrangian_residual(const PerturbedModel& model, const qoi::QoiSolution& fields);

/// True when both meshes have the same cells and nodes, wherever these lie.
bool same_cells(const mesh::Mesh& a, const mesh::Mesh& b);

} // namespace hangtrue::sensitivity
