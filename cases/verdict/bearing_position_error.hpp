// SPDX-License-Identifier: GPL-3.0-or-later
// What quantities at hinges owe to where along its knuckle a pin bears.
#pragma once

#include "cases/verdict/hinge_quantities.hpp"
#include "cases/verdict/quantity_of_interest.hpp"

#include <vector>

namespace hangtrue::verdict
{

/// Fills in QuantityOfInterest::per_knuckle_length of one state, open or closed. The error of the
/// bending of a pin is the greatest force on one of its knuckles times the error of the position of
/// that force. A leaf on several knuckles distributes its force among them by their distances
/// (lever rule), so the error of one of them is all their forces times the errors of their
/// positions, over the distance from first to last; the error of the stress there is in proportion.
/// A leaf on one knuckle has no such error.
void add_bearing_position_error(const HingeState& hinges, std::vector<QuantityOfInterest>& all);

} // namespace hangtrue::verdict
