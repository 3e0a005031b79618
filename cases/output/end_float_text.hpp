// End float of every hinge in every state, as lines of the report and as a figure.
#pragma once

#include "cases/check/check_run.hpp"
#include "cases/input/door_case.hpp"
#include "viz/figures/figures.hpp"

#include <string>

namespace hangtrue
{

/// A line per hinge and state: end float nominal and needed, free under and over the door, forces.
std::string float_table(const DoorCase& door_case, const CheckRun& run);

/// Use of the end float, a bar per hinge and state.
Figure float_chart(const DoorCase& door_case, const CheckRun& run, const FigureSize& size);

} // namespace hangtrue
