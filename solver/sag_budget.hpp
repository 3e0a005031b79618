// What makes the latch corner drop, in the parts that a shop talks about.
#pragma once

#include "solver/answer_share.hpp"
#include "solver/deflection.hpp"

#include <vector>

namespace hangtrue
{

/// The shares of a drop by part, skins, rim and stiffeners taken together as the panel.
std::vector<SagShare> sag_budget(const AnswerSplit& drop);

} // namespace hangtrue
