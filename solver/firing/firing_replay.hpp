// SPDX-License-Identifier: GPL-3.0-or-later
// The states of a firing again on another mesh, at the same instants.
#pragma once

#include "solver/firing/critical_instant.hpp"
#include "solver/heat/thermal_state.hpp"

#include <functional>
#include <vector>

namespace hangtrue::firing
{

/// The same door heated on another mesh: the warm-up until the latest requested instant, in steps
/// of twice the tolerance of `warm_up`, and the steady state, in the order of `wanted`. Throws
/// ComputeError when the temperatures do not converge.
std::vector<heat::ThermalState> replay_states(const door::Door& door, const mesh::BodyMesh& body,
                                              const std::vector<heat::ThermalStateId>& requested,
                                              const std::function<void(double share)>& report);

} // namespace hangtrue::firing
