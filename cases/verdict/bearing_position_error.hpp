// What quantities at hinges owe to where along its knuckle a pin bears.
#pragma once

#include "cases/verdict/hinge_quantities.hpp"
#include "cases/verdict/quantity_of_interest.hpp"

#include <vector>

namespace hangtrue
{

/// Fills in QuantityOfInterest::per_knuckle_length of one state, open or closed. The bending of a
/// pin is off by the greatest force on one of its knuckles times what the place of that force is
/// off. A leaf on several knuckles shares its force out among them by their distances (lever rule),
/// so what one of them carries is off by all their forces times what their places are off, over the
/// distance from first to last; the stress where it stands is off likewise. A leaf on one knuckle
/// owes nothing to its place.
void add_bearing_position_error(const HingesAt& hinges, std::vector<QuantityOfInterest>& all);

} // namespace hangtrue
