// Charts of the closed door and of its years.
#pragma once

#include "cases/check/check_run.hpp"
#include "cases/input/door_case.hpp"
#include "solver/analysis/closed_result.hpp"
#include "viz/figures/figures.hpp"

namespace hangtrue
{

/// Squeeze of the gasket round the door in every closed state, against sealing and crushing.
Figure gasket_chart(const DoorCase& door_case, const CheckRun& run, const FigureSize& size);

/// Drop over the years of use for the low, usual and high wear coefficient, against its limit.
Figure wear_chart(const DoorCase& door_case, const CheckRun& run, const FigureSize& size);

/// The closed state in which the gasket presses least.
const ClosedDoor& least_sealed(const CheckRun& run);

} // namespace hangtrue
