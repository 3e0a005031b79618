// SPDX-License-Identifier: GPL-3.0-or-later
// Any bytes as a door file: a door that obeys every rule and has a mass, or an InputError that
// names the file and what is allowed, and nothing unprintable.
#include "cases/input/door_file.hpp"
#include "meshing/common/errors.hpp"
#include "meshing/door/door.hpp"
#include "meshing/door/mass_properties.hpp"

#include <algorithm>
#include <cmath>
#include <cstdint>
#include <cstdlib>
#include <string>

using namespace hangtrue;

namespace
{

void demand(bool holds)
{
  if (!holds)
    std::abort();
}

bool printable(const std::string& text)
{
  return std::all_of(text.begin(), text.end(), [](char c) {
    return c == '\n' || (static_cast<unsigned char>(c) >= 0x20 && c != 0x7f);
  });
}

} // namespace

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size)
{
  const std::string text(reinterpret_cast<const char*>(data), size);
  try {
    const input::DoorCase read = input::read_door_text(text, "door.toml");
    demand(door::faults(read.door).empty());
    const door::PartMass whole = door::total_mass(door::part_masses(read.door));
    demand(std::isfinite(whole.mass) && whole.mass > 0.0);
    demand(std::isfinite(norm(whole.centre)));
    for (const auto& line : read.echo)
      demand(!line.key.empty() && printable(line.key) && printable(line.value));
  } catch (const InputError& error) {
    const std::string said = error.what();
    demand(said.rfind("door.toml", 0) == 0);
    demand(printable(said));
  }
  return 0;
}
