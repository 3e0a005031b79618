// The keys of the door file, section by section, in the order of the reference.
#pragma once

#include "cases/input/door_key.hpp"

#include <string>
#include <vector>

namespace hangtrue
{

std::vector<DoorKey> door_section_keys();
std::vector<DoorKey> panel_keys();
std::vector<DoorKey> hinge_keys();
std::vector<DoorKey> gasket_keys();
std::vector<DoorKey> latch_keys(); ///< and of the opening
std::vector<DoorKey> jamb_keys();
/// `section` is "steel" or "pin_steel", `grade` what it is unless said, as the file writes it.
std::vector<DoorKey> steel_keys(const std::string& section, const std::string& grade);
std::vector<DoorKey> fire_keys();
std::vector<DoorKey> handle_keys();
std::vector<DoorKey> limit_keys(); ///< and of the accuracy
std::vector<DoorKey> price_keys();
std::vector<DoorKey> use_keys();
std::vector<DoorKey> spread_keys();

} // namespace hangtrue
