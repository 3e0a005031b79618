// The states of a firing again on another mesh, at the same instants.
#pragma once

#include "solver/firing/critical_instant.hpp"
#include "solver/heat/thermal_state.hpp"

#include <functional>
#include <vector>

namespace hangtrue
{

/// The same door heated on another mesh: the warm-up until the latest requested instant, in steps
/// of twice the tolerance of `warm_up`, and the steady state, in the order of `wanted`. Throws
/// ComputeError when the temperatures do not converge.
std::vector<WarmDoor> heat_again(const Door& door, const BodyMesh& body,
                                 const std::vector<ThermalStateId>& wanted,
                                 const std::function<void(double share)>& told);

} // namespace hangtrue
