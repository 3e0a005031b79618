// SPDX-License-Identifier: GPL-3.0-or-later
// How a long computation reports its progress.
#pragma once

#include <functional>
#include <string>

namespace hangtrue
{

/// Called with a stage in the user's words and the fraction of the whole that is done (0 to 1).
using Progress = std::function<void(const std::string& stage, double done)>;

} // namespace hangtrue
