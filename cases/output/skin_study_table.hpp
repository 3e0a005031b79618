// What each attachment of the inner skin gains, as a table.
#pragma once

#include "cases/input/door_case.hpp"
#include "solver/analysis/skin_study.hpp"

#include <string>
#include <vector>

namespace hangtrue
{

/// The table, with what to read from it.
std::string skin_table(const DoorCase& door_case, const std::vector<SkinWay>& ways);

} // namespace hangtrue
