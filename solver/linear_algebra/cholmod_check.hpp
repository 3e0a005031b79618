// SPDX-License-Identifier: GPL-3.0-or-later
// Checks that CHOLMOD had the memory for a result.
#pragma once

#include "meshing/common/errors.hpp"

#include <string>

namespace hangtrue::linear_algebra
{

/// The library returns null where there is no memory: throws ComputeError then, naming the stage.
template <class T>
T* check_allocation(T* result, const char* stage)
{
  if (result == nullptr)
    throw ComputeError(std::string(stage) +
                       ": there is not enough memory; ask for a coarser answer ([accuracy] in the "
                       "door file)");
  return result;
}

} // namespace hangtrue::linear_algebra
