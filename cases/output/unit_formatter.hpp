// SPDX-License-Identifier: GPL-3.0-or-later
// How figures write quantities in the units of the file.
#pragma once

#include "cases/input/door_case.hpp"
#include "viz/figures/figures.hpp"

namespace hangtrue::output
{

/// How figures write quantities in the units of the file.
figures::UnitFormatter unit_formatter(input::UnitSystem units);

} // namespace hangtrue::output
