// SPDX-License-Identifier: GPL-3.0-or-later
// Doors for tests: invented, in inches as a shop would draw them.
#pragma once

#include "meshing/door/door.hpp"

#include <numbers>

namespace hangtrue::test
{

inline constexpr double inch = 0.0254;           // m
inline constexpr double pound = 4.4482216152605; // N
inline constexpr double psi = pound / (inch * inch);

/// A 30 x 30 in door of two 1/4 in skins on two three-knuckle hinges, side-hung, open at 90
/// degrees.
inline door::Door barrel_door(door::PinFixity pin = door::PinFixity::floating)
{
  door::Door door;
  door.name = "test door";
  door.shop = "test";
  door.swing = 0.5 * std::numbers::pi;
  door.panel = {30.0 * inch, 30.0 * inch, 0.25 * inch, 0.25 * inch};
  door.rim = {1.5 * inch, 1.5 * inch, 0.125 * inch};
  door.insulation = {"mineral wool", 128.0};
  door.reveal = 3.0 / 16.0 * inch;
  door::Hinge hinge;
  hinge.leaf = {4.5 * inch, 2.0 * inch, 0.25 * inch, 2.0 * inch};
  hinge.knuckles = {{door::KnuckleOwner::frame, 1.5 * inch},
                    {door::KnuckleOwner::door, 1.5 * inch},
                    {door::KnuckleOwner::frame, 1.5 * inch}};
  hinge.outside_diameter = 1.5 * inch;
  hinge.pin_diameter = 1.0 * inch;
  hinge.clearance = 0.018 * inch;
  hinge.end_float = inch / 32.0;
  hinge.weld_leg = 3.0 / 16.0 * inch;
  hinge.fixity = pin;
  hinge.position = 5.25 * inch;
  door.hinges.push_back(hinge);
  hinge.position = 24.75 * inch;
  hinge.carries_weight = false;
  door.hinges.push_back(hinge);
  door.jamb = {0.25 * inch, 4.0 * inch, door::JambBacking::edge, 0.0};
  return door;
}

/// The same door on plate lugs threaded on a rod, spacers between them.
inline door::Door lug_door(door::PinFixity pin = door::PinFixity::floating)
{
  door::Door door = barrel_door(pin);
  for (auto& hinge : door.hinges) {
    hinge.kind = door::HingeKind::lugs;
    hinge.leaf.width = 2.5 * inch;
    hinge.knuckles = {{door::KnuckleOwner::frame, 0.5 * inch},
                      {door::KnuckleOwner::door, 0.5 * inch},
                      {door::KnuckleOwner::frame, 0.5 * inch}};
    hinge.knuckle_gap = 1.0 * inch;
    hinge.outside_diameter = 2.0 * inch;
    hinge.leaf.length = 3.5 * inch;
  }
  return door;
}

/// Steel `times` as stiff in every part.
inline void stiffen(door::Door& door, double times)
{
  door.steel.youngs_modulus *= times;
  door.pin_steel.youngs_modulus *= times;
}

} // namespace hangtrue::test
