// The checks of an open door and of its hinges.
#pragma once

#include "cases/input/door_case.hpp"
#include "cases/verdict/check_result.hpp"
#include "solver/analysis/open_result.hpp"
#include "solver/analysis/wear_analysis.hpp"
#include "solver/strength/hinge_forces.hpp"
#include "solver/strength/pin_section_forces.hpp"

#include <string>
#include <vector>

namespace hangtrue
{

/// What the hinges of a door carry in one state; all that it points at must outlive it.
struct HingesAt {
  const Door& door; ///< standing as in this state: its swing turns what the frame's knuckles feel
  const StateId& state;
  double hinge_temperature = 20.0; ///< degC
  const std::vector<KnuckleForce>& knuckles;
  const std::vector<PinForces>& pins;
  const std::vector<LeafForces>& leaves;
};

/// The same of an open door.
HingesAt hinges_at(const Door& door, const Deflection& deflection);

/// Checks of pins, knuckles, leaves and welds in one state.
std::vector<Finding> judge_hinges(const DoorCase& door_case, const HingesAt& hinges);

/// All checks on an open door.
std::vector<Finding> judge(const DoorCase& door_case, const Deflection& deflection);

/// The drop after the years of use, with the width of its range as error.
Finding judge_wear(const DoorCase& door_case, const Deflection& deflection, const WearCurve& wear);

} // namespace hangtrue
