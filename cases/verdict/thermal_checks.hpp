// Checks that only a warm door has: temperatures, stress of skins and rim, play that heat takes.
#pragma once

#include "cases/input/door_case.hpp"
#include "cases/verdict/check_result.hpp"
#include "solver/analysis/open_result.hpp"
#include "solver/strength/skin_buckling.hpp"

#include <string>
#include <vector>

namespace hangtrue
{

/// Name of the check on how near a skin is to buckling with its edges simply supported.
std::string buckling_name(const SkinBuckling& skin);

/// Name of what stands beside it: the same with clamped edges.
std::string clamped_buckling_name(const SkinBuckling& skin);

/// Adds them for one warm state.
void add_warm_findings(const DoorCase& c, const Deflection& d, std::vector<Finding>& all);

} // namespace hangtrue
