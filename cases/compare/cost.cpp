// SPDX-License-Identifier: GPL-3.0-or-later
#include "cases/compare/cost.hpp"

#include "cases/input/units.hpp"
#include "meshing/door/mass_properties.hpp"

#include <array>
#include <numbers>
#include <string_view>

namespace hangtrue::compare
{

namespace
{

const double close_play = 0.010 * input::unit::inch; // m: common practice, no source

// Parts that the frame has as well.
bool of_hinge(std::string_view part)
{
  constexpr std::array<std::string_view, 5> parts{"land", "web", "neck", "knuckle", "lug"};
  for (const auto& name : parts)
    if (part.find(name) != std::string_view::npos)
      return true;
  return false;
}

} // namespace

double pin_mass(const door::Door& door)
{
  double mass = 0.0;
  for (const auto& hinge : door.hinges) {
    const int last = static_cast<int>(hinge.knuckles.size()) - 1;
    const double length = door::knuckle_start(hinge, last) + hinge.knuckles.back().length -
                          door::knuckle_start(hinge, 0);
    mass += std::numbers::pi * door::pin_radius(hinge) * door::pin_radius(hinge) * length *
            door.pin_steel.density;
  }
  return mass;
}

double door_cost(const input::DoorCase& door_case)
{
  const input::Prices& price = door_case.prices;
  double steel = 0.0;
  double filling = 0.0;
  for (const auto& part : door::part_masses(door_case.door)) {
    const bool hinge_part = of_hinge(part.part);
    if (part.part.find("insulation") != std::string::npos)
      filling += part.mass;
    else
      steel += (hinge_part ? 2.0 : 1.0) * part.mass;
  }
  double cost =
      steel * price.steel + filling * price.insulation + pin_mass(door_case.door) * price.pin_steel;
  for (const auto& hinge : door_case.door.hinges) {
    cost += price.hinge;
    if (hinge.clearance < close_play)
      cost += price.close_bore * static_cast<double>(hinge.knuckles.size());
  }
  return cost;
}

} // namespace hangtrue::compare
