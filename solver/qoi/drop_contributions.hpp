// SPDX-License-Identifier: GPL-3.0-or-later
// Contributions to the drop of the latch corner, by the parts that a shop talks about.
#pragma once

#include "solver/qoi/contribution.hpp"

#include <vector>

namespace hangtrue::qoi
{

/// The contributions to a drop by part, skins, rim, stiffeners and strip taken together as the
/// panel.
std::vector<Contribution> drop_contributions(const ContributionSplit& drop);

} // namespace hangtrue::qoi
