// SPDX-License-Identifier: GPL-3.0-or-later
// The keys of the door file, section by section, in the order of the reference.
#pragma once

#include "cases/input/door_key.hpp"

#include <string>
#include <vector>

namespace hangtrue::input
{

/// Keys of section "door".
std::vector<DoorKey> door_section_keys();
/// Keys of skins, rim, stiffeners, filling, and of how the inner skin is attached.
std::vector<DoorKey> panel_keys();
/// Keys of a hinge.
std::vector<DoorKey> hinge_keys();
/// Keys of section "gasket".
std::vector<DoorKey> gasket_keys();
/// Keys of a latch, and of the opening.
std::vector<DoorKey> latch_keys();
/// Keys of section "jamb".
std::vector<DoorKey> jamb_keys();
/// Keys of a steel: `section` is "steel" or "pin_steel", `grade` what it is unless said, as the
/// file writes it.
std::vector<DoorKey> steel_keys(const std::string& section, const std::string& grade);
/// Keys of section "fire".
std::vector<DoorKey> fire_keys();
/// Keys of section "handle".
std::vector<DoorKey> handle_keys();
/// Keys of the limits, and of the accuracy.
std::vector<DoorKey> limit_keys();
/// Keys of section "prices".
std::vector<DoorKey> price_keys();
/// Keys of section "use".
std::vector<DoorKey> use_keys();
/// Keys of section "spread".
std::vector<DoorKey> spread_keys();

} // namespace hangtrue::input
