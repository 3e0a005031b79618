// SPDX-License-Identifier: GPL-3.0-or-later
// What closes a door, from the values of its file: gasket, latches, opening.
#pragma once

#include "cases/input/door_file_reader.hpp"
#include "meshing/door/door.hpp"

#include <vector>

namespace hangtrue::input
{

/// The gasket, with the values of its kind where the file gives none (common practice, no source);
/// adds a fault when one of the user's own has no curve.
door::Gasket gasket_from(const SectionValues& s, std::vector<FileFault>& faults);

/// The latches, half the rim from their edge by default.
std::vector<door::Latch> latches_from(const std::vector<SectionValues>& sections,
                                      const door::Door& door);

/// The gaps round the door, the reveal, m, where the file is silent.
door::Opening opening_from(const SectionValues& s, double reveal);

} // namespace hangtrue::input
