// Where a contact solution begins: places at the hinges that are in question from the start.
#pragma once

#include "solver/contact/contact_pairs.hpp"

#include <vector>

namespace hangtrue
{

/// Points that are in question from the start, rising: all that are not at a hinge; directions at
/// both ends of every knuckle, enough of them that some can carry any load; and where a solution of
/// a like state touched (`foreseen`, on this mesh or another), the nearest points and their
/// neighbours. A good guess saves columns, a bad one costs some; the solution is the same.
std::vector<int> first_contacts(const std::vector<ContactPoint>& points,
                                const std::vector<Touch>& foreseen);

} // namespace hangtrue
