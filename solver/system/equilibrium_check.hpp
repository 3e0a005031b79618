// SPDX-License-Identifier: GPL-3.0-or-later
// How well the forces on door and frame balance in a solved state.
#pragma once

#include <string>

namespace hangtrue::mesh
{
struct Mesh;
} // namespace hangtrue::mesh

namespace hangtrue::door
{
struct Door;
} // namespace hangtrue::door

namespace hangtrue::contact
{
struct ContactState;
} // namespace hangtrue::contact

namespace hangtrue::system
{

struct DoorSystem;

/// Equilibrium residuals, each relative to the weight (and the weight times the door's width).
struct EquilibriumCheck {
  double force_error = 0.0;       ///< door: contact forces against weight and handle load
  double moment_error = 0.0;      ///< door: moments about the lower end of the hinge axis
  double reaction_error = 0.0;    ///< frame: reactions at the backing against all weights
  double min_gap = 0.0;           ///< m, deepest penetration left over (negative) or 0
  double min_contact_force = 0.0; ///< N, largest pull left over (negative) or 0
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
EquilibriumCheck check_door_equilibrium(const door::Door& door, const mesh::Mesh& mesh,
                                        const DoorSystem& system,
                                        const contact::ContactState& state,
                                        const ForceScale& scale);

} // namespace hangtrue::system
