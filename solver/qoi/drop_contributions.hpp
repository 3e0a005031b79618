// What makes the latch corner drop, in the parts that a shop talks about.
#pragma once

#include "solver/qoi/contribution.hpp"

#include <string>
#include <vector>

namespace hangtrue
{

/// What a share of the drop comes from.
enum class SagCause { play, bending, heat };

/// One share of the drop: "play in hinge 1", "jamb", "heat of the panel".
struct SagShare {
  std::string part;
  SagCause cause = SagCause::bending;
  double drop = 0.0; ///< m, negative where it lifts
};

/// The shares of a drop by part, skins, rim and stiffeners taken together as the panel.
std::vector<SagShare> sag_budget(const AnswerSplit& drop);

} // namespace hangtrue
