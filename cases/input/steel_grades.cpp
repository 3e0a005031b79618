// SPDX-License-Identifier: GPL-3.0-or-later
#include "cases/input/steel_grades.hpp"

#include "cases/input/units.hpp"
#include "meshing/common/errors.hpp"

namespace hangtrue::input
{

namespace
{

using unit::ksi;

constexpr double us_density = 7849.0; // kg/m^3, 490 lb/ft^3

} // namespace

door::Steel steel_grade(const std::string& name)
{
  if (name == "A36")
    return {name, us_density, 29000.0 * ksi, 0.3, 36.0 * ksi, 58.0 * ksi};
  if (name == "A500 B")
    return {name, us_density, 29000.0 * ksi, 0.3, 46.0 * ksi, 58.0 * ksi};
  if (name == "A500 C")
    return {name, us_density, 29000.0 * ksi, 0.3, 50.0 * ksi, 62.0 * ksi};
  if (name == "1018 hot rolled")
    return {name, us_density, 29000.0 * ksi, 0.3, 32.0 * ksi, 58.0 * ksi};
  if (name == "1018 cold drawn")
    return {name, us_density, 29000.0 * ksi, 0.3, 54.0 * ksi, 64.0 * ksi};
  if (name == "S235")
    return {name, 7850.0, 210.0e9, 0.3, 235.0e6, 360.0e6};
  if (name == "S355")
    return {name, 7850.0, 210.0e9, 0.3, 355.0e6, 470.0e6};
  throw InputError("steel grade \"" + name + "\" is not known");
}

} // namespace hangtrue::input
