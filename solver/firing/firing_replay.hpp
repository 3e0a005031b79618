// The states of a firing again on another mesh, at the same instants.
#pragma once

#include "solver/firing/critical_instant.hpp"
#include "solver/heat/thermal_state.hpp"

#include <functional>
#include <vector>

namespace hangtrue
{

/// One state that is wanted again.
struct WantedState {
  std::string state;
  double time = 0.0;   ///< s from the start of the firing
  bool steady = false; ///< under the hottest gas for ever, or skins as measured

  bool operator==(const WantedState&) const = default;
};

/// The same door heated on another mesh: the warm-up as far as the latest wanted instant and no
/// farther, in steps of twice the tolerance of `warm_up`, and the steady state, with the names of
/// `wanted` and in its order. Throws ComputeError when the temperatures do not settle.
std::vector<WarmDoor> heat_again(const Door& door, const BodyMesh& body,
                                 const std::vector<WantedState>& wanted,
                                 const std::function<void(double share)>& told);

} // namespace hangtrue
