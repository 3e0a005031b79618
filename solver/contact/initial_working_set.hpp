// SPDX-License-Identifier: GPL-3.0-or-later
// The initial working set of a contact solution: the pairs at the hinges that it starts with.
#pragma once

#include "solver/contact/contact_pairs.hpp"

#include <vector>

namespace hangtrue::contact
{

/// Initial working set, rising: all pairs that are not at a hinge; directions at both ends of every
/// knuckle, enough of them that some can carry any load; and where a solution of a similar state
/// had active contact (`warm_start`, on this mesh or another), the nearest pairs and their
/// neighbours. A good guess saves columns, a bad one costs some; the solution is the same.
std::vector<int> initial_working_set(const std::vector<ContactPair>& pairs,
                                     const std::vector<ActiveContact>& warm_start);

} // namespace hangtrue::contact
