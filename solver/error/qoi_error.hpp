// SPDX-License-Identifier: GPL-3.0-or-later
// Discretization error of a quantity of interest that is split: of all bodies together.
#pragma once

#include "solver/qoi/contribution_split.hpp"
#include "solver/system/door_system.hpp"
#include "solver/system/error_by_region.hpp"

#include <vector>

namespace hangtrue::error
{

/// True less computed value, m, by region: dual_weighted_error of every body, with the active
/// contacts taken as known. `fixed` are the nodes of the frame that its backing fixes.
system::ErrorByRegion qoi_error(const system::DoorSystem& system, const std::vector<int>& held,
                                const qoi::ContactStateData& solved,
                                const contact::AdjointSolution& adjoint);

/// The same, from the cached `known` where that is of the same displacements, and stored there.
system::ErrorByRegion qoi_error(const system::DoorSystem& system, const std::vector<int>& held,
                                const qoi::ContactStateData& solved,
                                const contact::AdjointSolution& adjoint,
                                system::CachedErrorEstimate& known);

} // namespace hangtrue::error
