// SPDX-License-Identifier: GPL-3.0-or-later
// Reads a door file and stops: for odd_doors.py, with files that are only to be read.
//
//   read_door FILE     status 0, or 2 with the faults as `hangtrue check` says them
#include "cases/input/clean_text.hpp"
#include "cases/input/door_file.hpp"
#include "meshing/common/errors.hpp"

#include <fmt/format.h>

#include <cstdio>

int main(int count, char** words)
{
  using namespace hangtrue;
  if (count != 2)
    return 1;
  try {
    const input::DoorCase read = input::read_door_file(words[1]);
    fmt::print("{}: {}\n", read.file, read.door.name);
    for (const auto& line : read.echo)
      fmt::print("{} = {} ({})\n", line.key, line.value, line.written);
    return 0;
  } catch (const InputError& error) {
    fmt::print(stderr, "{}\n", input::clean_lines(error.what()));
    return 2;
  }
}
