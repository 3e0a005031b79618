// SPDX-License-Identifier: GPL-3.0-or-later
// How many parts one door may have.
#pragma once

#include <cstddef>

namespace hangtrue::door
{

/// Greatest number of each on one door, for which mesh and contact solution were designed; sixty
/// stiffeners are one every 130 mm both ways on the largest door.
constexpr std::size_t max_hinges = 4;
/// Most stiffeners of one door.
constexpr std::size_t max_stiffeners = 60;
/// Most latches of one door.
constexpr std::size_t max_latches = 6;

} // namespace hangtrue::door
