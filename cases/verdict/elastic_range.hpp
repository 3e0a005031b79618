// SPDX-License-Identifier: GPL-3.0-or-later
// States in which the hinges would give way: the elastic solution is not that of the door.
#pragma once

#include "cases/verdict/quantity_of_interest.hpp"

#include <vector>

namespace hangtrue::verdict
{

/// Stress of pins and leaves over what is allowed, above which their sections are plastic
/// throughout. A solid round carries 16 / (3 pi) = 1.70 and a rectangle 1.5 times the moment at
/// which it begins to yield (Timoshenko, Strength of Materials, part II; from memory), in shear 4/3
/// and 3/2 times the force, and no limit of theirs is below 0.6 of yield: 1.70 / 0.6 = 2.8, rounded
/// up.
inline constexpr double plastic_over_allowed = 3.0;

/// Greatest stress of a pin or a leaf, in bending or with shear, among the quantities of one state,
/// over what is allowed; 0 where none is limited.
double hinge_stress_over_allowed(const std::vector<QuantityOfInterest>& state);

/// Removes the errors of all quantities of a state whose hinges are stressed beyond
/// `plastic_over_allowed`, and says so in the reasons of those that are checked. Displacements and
/// forces of an elastic door are then outside of what elasticity and small displacements describe,
/// and no difference between meshes says how far.
void withdraw_errors_beyond_elastic(std::vector<QuantityOfInterest>& state);

} // namespace hangtrue::verdict
