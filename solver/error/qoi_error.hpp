// Discretization error of a quantity of interest that is split: of all bodies together.
#pragma once

#include "solver/qoi/contribution_split.hpp"
#include "solver/system/door_system.hpp"
#include "solver/system/error_by_region.hpp"

#include <vector>

namespace hangtrue
{

/// True less computed value, m, by region: goal_error of every body, with the active contacts taken
/// as known. `held` are the nodes of the frame that its backing fixes.
MissingIn answer_error(const Assembly& assembly, const std::vector<int>& held,
                       const SolvedContact& solved, const UnitAnswer& adjoint);

/// The same, from the cached `known` where that is of the same displacements, and stored there.
MissingIn answer_error(const Assembly& assembly, const std::vector<int>& held,
                       const SolvedContact& solved, const UnitAnswer& adjoint, KnownError& known);

} // namespace hangtrue
