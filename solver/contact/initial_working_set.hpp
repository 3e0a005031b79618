// The initial working set of a contact solution: the pairs at the hinges that it starts with.
#pragma once

#include "solver/contact/contact_pairs.hpp"

#include <vector>

namespace hangtrue
{

/// Initial working set, rising: all pairs that are not at a hinge; directions at both ends of every
/// knuckle, enough of them that some can carry any load; and where a solution of a similar state
/// had active contact (`foreseen`, on this mesh or another), the nearest pairs and their
/// neighbours. A good guess saves columns, a bad one costs some; the solution is the same.
std::vector<int> first_contacts(const std::vector<ContactPoint>& points,
                                const std::vector<Touch>& foreseen);

} // namespace hangtrue
