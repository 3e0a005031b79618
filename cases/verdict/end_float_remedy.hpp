// SPDX-License-Identifier: GPL-3.0-or-later
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

namespace hangtrue::verdict
{

/// The states of a check for which end float is evaluated.
struct EndFloatStates {
  std::vector<const analysis::OpenDoorResult*> open;
  std::vector<const analysis::ClosedDoorResult*> closed;
};

/// The door with one hinge that carries, the lowest of those drawn so, and with the end float that
/// its states need at every hinge that has less: a ninth more, so that the check holds, in whole
/// sixty-fourths or tenths of a millimetre. Nothing where no check of end float fails.
std::optional<input::DoorCase> with_free_hinges(const input::DoorCase& door_case,
                                                const EndFloatStates& states,
                                                const std::vector<CheckResult>& checks);

/// "end float 3/16 in at hinge 2, which slides; hinge 1 carries".
std::string end_float_text(const input::DoorCase& drawn, const input::DoorCase& freed);

/// The same as a change of the closed door.
Remedy end_float_remedy(const input::DoorCase& drawn, const input::DoorCase& freed);

/// The remedy in words with its effect in every state: checks that failed and do no more, by their
/// values, and those that still fail. `closed` are the states closed with the change.
std::string end_float_remedy_text(const input::DoorCase& drawn, const input::DoorCase& freed,
                                  const std::vector<const analysis::OpenDoorResult*>& open,
                                  const std::vector<analysis::ClosedDoorResult>& closed,
                                  const std::vector<CheckResult>& checks);

} // namespace hangtrue::verdict
