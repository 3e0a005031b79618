// SPDX-License-Identifier: GPL-3.0-or-later
// Uncertain inputs: sizes and properties of a door that may be off nominal, and their perturbation.
#pragma once

#include "meshing/door/door.hpp"

#include <functional>
#include <string>
#include <vector>

namespace hangtrue::sensitivity
{

/// One size or property. Where several parts have it (the clearance of all hinges) they change
/// together.
struct UncertainInput {
  std::string key;           ///< as in the door file: "hinge.clearance"
  std::string what;          ///< in words: "play in the bores"
  double value = 0.0;        ///< SI, nominal (of the first part that has it); 1 for a factor
  double step = 0.0;         ///< SI, small enough to be a derivative, large enough against rounding
  double thermal_step = 0.0; ///< SI, for temperatures, which converge less exactly; 0: unchanged
  bool factor = false;       ///< a factor on the existing value: a whole curve
  bool shapes = false;       ///< changes the mesh
  std::function<void(door::Door&, double by)> apply; ///< adds `by`, SI
};

/// All that this door has: hinges, leaves, skins, jamb, and where there are any, insulation, fire,
/// gasket and latches.
std::vector<UncertainInput> uncertain_inputs(const door::Door& door);

} // namespace hangtrue::sensitivity
