// SPDX-License-Identifier: GPL-3.0-or-later
// Charts of the closed door and of its years.
#pragma once

#include "cases/check/check_run.hpp"
#include "cases/input/door_case.hpp"
#include "solver/analysis/closed_result.hpp"
#include "viz/figures/figures.hpp"

namespace hangtrue::case_figures
{

/// Squeeze of the gasket round the door in every closed state, against sealing and crushing.
figures::Figure gasket_chart(const input::DoorCase& door_case, const check::CheckRun& run,
                             const plots::FigureSize& size);

/// Drop over the years of use for the low, usual and high wear coefficient, against its limit.
figures::Figure wear_chart(const input::DoorCase& door_case, const check::CheckRun& run,
                           const plots::FigureSize& size);

/// The closed state in which the gasket presses least.
const analysis::ClosedDoorResult& least_sealed(const check::CheckRun& run);

} // namespace hangtrue::case_figures
