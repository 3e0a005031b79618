// The error from the mesh of an answer that is split: of all bodies together.
#pragma once

#include "solver/qoi/contribution_split.hpp"
#include "solver/system/door_system.hpp"
#include "solver/system/error_by_region.hpp"

#include <vector>

namespace hangtrue
{

/// By how much the true answer is more than the computed one, m, by where it is missing: goal_error
/// of every body, with the contacts that carry taken as known. `held` are the nodes of the frame
/// that its backing holds.
MissingIn answer_error(const Assembly& assembly, const std::vector<int>& held,
                       const SolvedContact& solved, const UnitAnswer& adjoint);

/// The same, taken from `known` where that is of the same movements, and left there.
MissingIn answer_error(const Assembly& assembly, const std::vector<int>& held,
                       const SolvedContact& solved, const UnitAnswer& adjoint, KnownError& known);

} // namespace hangtrue
