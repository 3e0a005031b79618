// What CHOLMOD gives, or a word that there was no memory for it.
#pragma once

#include "meshing/common/errors.hpp"

#include <string>

namespace hangtrue
{

/// The library gives nothing where there is no memory: throws ComputeError then, naming the stage.
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
