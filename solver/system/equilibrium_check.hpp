// How well the forces on door and frame balance in a solved state.
#pragma once

#include <string>

namespace hangtrue
{

struct Assembly;
struct ContactState;
struct Door;
struct Mesh;

/// Equilibrium residuals, each relative to the weight (and the weight times the door's width).
struct Balance {
  double force_error = 0.0;    ///< door: contact forces against weight and handle load
  double moment_error = 0.0;   ///< door: moments about the lower end of the hinge axis
  double reaction_error = 0.0; ///< frame: reactions at the backing against all weights
  double least_gap = 0.0;      ///< m, deepest penetration left over (negative) or 0
  double least_force = 0.0;    ///< N, largest pull left over (negative) or 0
};

/// The force that an equilibrium is measured by, and what door and force are called in its error.
struct ForceScale {
  double force = 0.0; ///< N
  std::string door;   ///< "the door"
  std::string name;   ///< "its weight"
};

/// Resultant forces and moments, about the lower end of the hinge axis, of loads and contact forces
/// on the door; `reaction_error` is not considered. Throws ComputeError when more than 1e-8 of the
/// scale (times the door's width, for moments) remains.
Balance check_door_equilibrium(const Door& door, const Mesh& mesh, const Assembly& assembly,
                               const ContactState& state, const ForceScale& scale);

} // namespace hangtrue
