// SPDX-License-Identifier: GPL-3.0-or-later
// Which values of which keys a comparison tries.
#pragma once

#include <string>
#include <vector>

namespace hangtrue::compare
{

/// Values to try. Keys of one list vary together: `rows[i][k]` is the i-th value of `keys[k]` as a
/// TOML value. All combinations of the lists are tried.
struct ParameterSweep {
  std::vector<std::string> keys; ///< "hinge.pin_diameter" (every hinge) or "hinge[0].at"
  std::vector<std::vector<std::string>> rows;
};

/// Everything that is to be tried.
struct SweepPlan {
  std::vector<ParameterSweep> lists;
  bool singly = false; ///< one list at a time, the rest as in the file, instead of the full table
};

} // namespace hangtrue::compare
