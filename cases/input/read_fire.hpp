// SPDX-License-Identifier: GPL-3.0-or-later
// The fire, from the values of its section: schedule, measured skins, hot spot, chosen instants.
#pragma once

#include "cases/input/door_file_reader.hpp"
#include "meshing/door/door.hpp"

#include <vector>

namespace hangtrue::input
{

/// The fire in front of a panel; adds a fault for measured skins that are incomplete or given
/// beside a schedule, for a hot spot that is not hotter than the gas, and for instants after its
/// end.
door::Fire fire_from(const SectionValues& s, const door::Panel& panel,
                     std::vector<FileFault>& faults);

} // namespace hangtrue::input
