// How well the forces on door and frame balance in a solved state.
#pragma once

namespace hangtrue
{

/// How the books balance, each relative to the weight (and the weight times the door's width).
struct Balance {
  double force_error = 0.0;    ///< door: contact forces against weight and handle load
  double moment_error = 0.0;   ///< door: moments about the lower end of the hinge axis
  double reaction_error = 0.0; ///< frame: reactions at the backing against all weights
  double least_gap = 0.0;      ///< m, deepest penetration left over (negative) or 0
  double least_force = 0.0;    ///< N, largest pull left over (negative) or 0
};

} // namespace hangtrue
