// SPDX-License-Identifier: GPL-3.0-or-later
// Errors of the forces along the pins where hinges are about to bind.
#pragma once

#include "cases/verdict/quantity_of_interest.hpp"

#include <vector>

namespace hangtrue::verdict
{

/// Error of the force of hinges that may bind, of what is allowed: enough that the verdict depends
/// on it.
inline constexpr double may_bind = 1.5;

/// Widens the model errors of the force of bound hinges and of pin heads in a state whose end float
/// is taken within its error while its hinges are not bound beyond what is allowed: a mesh on which
/// they are free says nothing of how stiff they are when they bind. Not their errors from the mesh,
/// which ask for a finer one: end float as drawn is known no closer.
void widen_where_hinges_may_bind(std::vector<QuantityOfInterest>& state);

} // namespace hangtrue::verdict
