// Remedy for a door whose hinges bind or that leaves the hinge it is drawn to rest on.
#pragma once

#include "cases/verdict/check_result.hpp"
#include "cases/verdict/remedies.hpp"
#include "solver/analysis/closed_analysis.hpp"
#include "solver/analysis/closed_result.hpp"
#include "solver/analysis/open_result.hpp"

#include <optional>
#include <string>
#include <vector>

namespace hangtrue
{

/// The states of a check for which end float is evaluated.
struct FloatStates {
  std::vector<const Deflection*> open;
  std::vector<const ClosedDoor*> closed;
};

/// The door with one hinge that carries, the lowest of those drawn so, and with the end float that
/// its states need at every hinge that has less: a ninth more, so that the check holds, in whole
/// sixty-fourths or tenths of a millimetre. Nothing where no check of end float fails.
std::optional<DoorCase> freed_case(const DoorCase& door_case, const FloatStates& states,
                                   const std::vector<CheckResult>& checks);

/// "end float 3/16 in at hinge 2, which slides; hinge 1 carries".
std::string float_words(const DoorCase& drawn, const DoorCase& freed);

/// The same as a change of the closed door.
Change float_change(const DoorCase& drawn, const DoorCase& freed);

/// The remedy in words with its effect in every state: checks that failed and do no more, by their
/// values, and those that still fail. `closed` are the states closed with the change.
std::string float_advice(const DoorCase& drawn, const DoorCase& freed,
                         const std::vector<const Deflection*>& open,
                         const std::vector<ClosedDoor>& closed,
                         const std::vector<CheckResult>& checks);

} // namespace hangtrue
