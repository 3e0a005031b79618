// SPDX-License-Identifier: GPL-3.0-or-later
// Any bytes as a quantity: a finite number that reads back, or an InputError that helps.
#include "cases/input/units.hpp"
#include "meshing/common/errors.hpp"

#include <array>
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

} // namespace

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size)
{
  constexpr std::array<input::Dimension, 8> kinds{
      input::Dimension::length,  input::Dimension::force,  input::Dimension::temperature,
      input::Dimension::density, input::Dimension::stress, input::Dimension::angle,
      input::Dimension::time,    input::Dimension::film};
  if (size == 0)
    return 0;
  const input::Dimension kind = kinds[data[0] % kinds.size()];
  const std::string text(reinterpret_cast<const char*>(data + 1), size - 1);
  try {
    const double value = input::parse_quantity(text, kind);
    demand(std::isfinite(value));
    demand(input::parse_quantity(input::format_exact(value, kind), kind) == value);
    for (const input::UnitSystem units : {input::UnitSystem::us, input::UnitSystem::si}) {
      demand(!input::format_quantity(value, kind, units).empty());
      demand(!input::format_short(value, kind, units).empty());
    }
  } catch (const InputError& error) {
    const std::string said = error.what();
    demand(said.find("allowed") != std::string::npos);
    demand(said.find('\n') == std::string::npos);
    demand(said.size() < 500);
  }
  return 0;
}
