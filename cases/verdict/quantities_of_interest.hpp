// The numbers that a check answers with, by name, each with its mesh error.
#pragma once

#include "cases/input/door_case.hpp"
#include "cases/verdict/quantity_of_interest.hpp"
#include "solver/analysis/closed_analysis.hpp"
#include "solver/analysis/closed_result.hpp"
#include "solver/analysis/open_result.hpp"

#include <string>
#include <vector>

namespace hangtrue
{

/// What an open state answers: every check of it, and what a straightedge, a thermometer and the
/// hinges read beyond the checks.
std::vector<Answer> answers_of(const DoorCase& door_case, const Deflection& deflection);

/// The same of a closed state.
std::vector<Answer> answers_of(const DoorCase& door_case, const ClosedDoor& closed);

/// The answer of that name, or none.
const Answer* find_answer(const std::vector<Answer>& answers, const std::string& name);

/// The error, SI, of the answer of that state and name; 0 where it is not known.
double error_of(const std::vector<Answer>& answers, const StateId& state, const std::string& name);

} // namespace hangtrue
