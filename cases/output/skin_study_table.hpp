// SPDX-License-Identifier: GPL-3.0-or-later
// What each attachment of the inner skin gains, as a table.
#pragma once

#include "cases/input/door_case.hpp"
#include "solver/analysis/skin_study.hpp"

#include <string>
#include <vector>

namespace hangtrue::output
{

/// The table, with what to read from it.
std::string skin_table(const input::DoorCase& door_case,
                       const std::vector<analysis::SkinVariant>& ways);

} // namespace hangtrue::output
