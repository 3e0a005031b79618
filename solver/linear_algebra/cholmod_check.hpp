// Checks that CHOLMOD had the memory for a result.
#pragma once

#include "meshing/common/errors.hpp"

#include <string>

namespace hangtrue
{

/// The library returns null where there is no memory: throws ComputeError then, naming the stage.
template <class T>
T* there(T* made, const char* stage)
{
  if (made == nullptr)
    throw ComputeError(std::string(stage) +
                       ": there is not enough memory; ask for a coarser answer ([accuracy] in the "
                       "door file)");
  return made;
}

} // namespace hangtrue
