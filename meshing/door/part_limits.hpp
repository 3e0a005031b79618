// How many parts one door may have.
#pragma once

#include <cstddef>

namespace hangtrue
{

/// Most of each on one door: what mesh and contact solution were made for; sixty stiffeners stand
/// every 130 mm both ways on the largest door.
constexpr std::size_t most_hinges = 4;
/// Most stiffeners of one door.
constexpr std::size_t most_stiffeners = 60;
/// Most latches of one door.
constexpr std::size_t most_latches = 6;

} // namespace hangtrue
