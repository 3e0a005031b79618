// The numbers that a check answers with, by name, each with its mesh error.
#pragma once

#include "cases/case.hpp"
#include "cases/findings.hpp"
#include "cases/quantity.hpp"
#include "solver/closed_door.hpp"
#include "solver/deflection.hpp"

#include <string>
#include <vector>

namespace hangtrue
{

/// One number of one state.
struct Answer {
  std::string state;
  std::string name;
  double value = 0.0; ///< SI
  Kind kind = Kind::length;
  bool plain = false; ///< a share without unit
  double limit = 0.0; ///< SI, of a check; it may move with the temperatures; 0 where there is none
  double error = 0.0; ///< SI, estimated from the mesh
  bool error_known = false;
  bool taken_over = false; ///< the error is that of other states
};

/// What an open state answers: every check of it, and what a straightedge, a thermometer and the
/// hinges read beyond the checks.
std::vector<Answer> answers_of(const DoorCase& door_case, const Deflection& deflection);

/// The same of a closed state.
std::vector<Answer> answers_of(const DoorCase& door_case, const ClosedDoor& closed);

/// The answer of that name, or none.
const Answer* find_answer(const std::vector<Answer>& answers, const std::string& name);

} // namespace hangtrue
