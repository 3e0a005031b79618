// SPDX-License-Identifier: GPL-3.0-or-later
// From a door file to a door.
#pragma once

#include "cases/input/door_case.hpp"

#include <string>

namespace hangtrue::input
{

/// Largest door file that is read, bytes: a door takes a few thousand, the longest lists that are
/// allowed some two hundred thousand; what can be written into so many is read or refused within
/// a second.
constexpr long max_door_file_size = 1L << 20;

/// Reads a door file. Throws InputError that lists its first faults (max_reported_faults) and the
/// number of all others, each with file, line, column, key, what was found, what is allowed and a
/// repair.
DoorCase read_door_file(const std::string& path);

/// The same from text; `file`, cleaned, is the name of the file in messages.
DoorCase read_door_text(const std::string& text, const std::string& file);

} // namespace hangtrue::input
