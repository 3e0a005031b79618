// Checks that only a warm door has: temperatures, stress of skins and rim, play that heat takes.
#pragma once

#include "cases/findings.hpp"

namespace hangtrue
{

/// Adds them for one warm state.
void add_warm_findings(const DoorCase& c, const Deflection& d, std::vector<Finding>& all);

} // namespace hangtrue
