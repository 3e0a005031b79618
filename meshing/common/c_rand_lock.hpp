// SPDX-License-Identifier: GPL-3.0-or-later
// One user of the C library's random numbers at a time.
#pragma once

#include <mutex>

namespace hangtrue
{

/// To be locked while METIS orders a matrix or Gmsh meshes: METIS seeds and draws the random
/// numbers of the C library, which all threads share. Two orderings at once, or a mesher that draws
/// in between, would give another ordering, other rounding, and no longer the same bytes for the
/// same door.
inline std::unique_lock<std::recursive_mutex> lock_c_rand()
{
  static std::recursive_mutex mutex; // guards state that is global already
  return std::unique_lock(mutex);
}

} // namespace hangtrue
