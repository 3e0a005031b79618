// From a door file to a door.
#pragma once

#include "cases/case.hpp"

#include <string>

namespace hangtrue
{

/// Largest door file that is read, bytes: a door takes a few thousand.
constexpr long largest_door_file = 1L << 20;

/// Reads a door file. Throws InputError that lists every fault, each with file, line, column, key,
/// what was found, what is allowed and a repair.
DoorCase read_door_file(const std::string& path);

/// The same from text; `name` stands for the file in messages.
DoorCase read_door_text(const std::string& text, const std::string& name);

} // namespace hangtrue
