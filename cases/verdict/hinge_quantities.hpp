// SPDX-License-Identifier: GPL-3.0-or-later
// What pins, knuckles, leaves and welds carry in one state, against their strength.
#pragma once

#include "cases/input/door_case.hpp"
#include "cases/verdict/quantity_of_interest.hpp"
#include "solver/strength/hinge_forces.hpp"
#include "solver/strength/pin_section_forces.hpp"

#include <vector>

namespace hangtrue::verdict
{

/// What the hinges of a door carry in one state; all that it points at must outlive it.
struct HingeState {
  const door::Door& door; ///< as in this state: its swing turns the forces of the frame's knuckles
  system::StateId state;
  double hinge_temperature = 20.0; ///< degC
  const std::vector<strength::KnuckleForce>& knuckles;
  const std::vector<strength::PinForces>& pins;
  const std::vector<strength::LeafForces>& leaves;
};

/// Stress in pins, knuckles, leaves and welds, the worst of each, with limits as hot as the hinges.
std::vector<QuantityOfInterest> hinge_quantities(const input::DoorCase& door_case,
                                                 const HingeState& hinges);

/// The largest force between a knuckle and its pin.
QuantityOfInterest knuckle_force(const HingeState& hinges);

} // namespace hangtrue::verdict
