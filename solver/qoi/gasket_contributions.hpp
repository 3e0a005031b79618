// SPDX-License-Identifier: GPL-3.0-or-later
// The least squeeze of the gasket as a sum of contributions.
#pragma once

#include "meshing/door/door.hpp"
#include "solver/contact/contact_solver.hpp"
#include "solver/contact/gasket_model.hpp"
#include "solver/qoi/contribution_split.hpp"
#include "solver/system/door_system.hpp"

#include <cstddef>
#include <functional>
#include <vector>

namespace hangtrue::qoi
{

/// The gasket of one closed state among the contact points.
struct GasketGaps {
  const door::Gasket& gasket;
  const std::vector<contact::GasketPoint>& line;   ///< as solved
  std::size_t first = 0;                           ///< its first contact point
  std::function<double(const Vec3&)> face_setback; ///< m, of the frame face at a place
};

/// The squeeze at the length of gasket where it is least, with its contributions: the nominal
/// squeeze there (height less set gap, warp, permanent set), less the displacement outwards, which
/// split_contributions splits. `solved` has points as set and state; contributions to its gaps and
/// the displacements are filled in.
QoiSolution least_squeeze_solution(const system::DoorSystem& system,
                                   const contact::ContactSolver& solver, ContactStateData solved,
                                   const GasketGaps& gaps);

} // namespace hangtrue::qoi
