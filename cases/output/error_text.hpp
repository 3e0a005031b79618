// SPDX-License-Identifier: GPL-3.0-or-later
// Discretization errors in the user's words and units.
#pragma once

#include "cases/check/check_run.hpp"
#include "cases/input/door_case.hpp"

#include <string>
#include <vector>

namespace hangtrue::output
{

/// An error, SI, as a difference in the user's units: a temperature without its zero, and what is
/// too small to show as less than the last place: "<0.0001 in".
std::string error_text(double error, qoi::Quantity quantity, input::UnitSystem units);

/// " +- 0.0003 in" for a reading of a state, or nothing where its error is not known.
std::string plus_minus(const check::CheckRun& run, const qoi::QoiId& id, input::UnitSystem units);

/// Sentences on the discretization error: where it arises, and which checks it leaves above the
/// requested fraction of their limits, each with whether its verdict is undecided within the error.
std::vector<std::string> error_sentences(const input::DoorCase& door_case,
                                         const check::CheckRun& run);

} // namespace hangtrue::output
