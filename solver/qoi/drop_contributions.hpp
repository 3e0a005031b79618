// What makes the latch corner drop, in the parts that a shop talks about.
#pragma once

#include "solver/analysis/open_result.hpp"
#include "solver/qoi/contribution.hpp"

#include <vector>

namespace hangtrue
{

/// The shares of a drop by part, skins, rim and stiffeners taken together as the panel.
std::vector<SagShare> sag_budget(const AnswerSplit& drop);

} // namespace hangtrue
