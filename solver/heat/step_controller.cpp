// SPDX-License-Identifier: GPL-3.0-or-later
#include "solver/heat/step_controller.hpp"

#include <algorithm>
#include <cmath>
#include <utility>

namespace hangtrue::heat
{

StepController::StepController(double from, double to, double tolerance, std::vector<double> breaks)
    : to_(to), span_(to - from), tolerance_(tolerance), breaks_(std::move(breaks)),
      next_((to - from) / first_steps)
{
}

bool StepController::done(double time) const
{
  return !(time < to_ - reached * span_);
}

double StepController::step_at(double time) const
{
  double stop = to_;
  for (const double b : breaks_)
    if (b > time + reached * span_)
      stop = std::min(stop, b);
  return std::min(next_, stop - time);
}

bool StepController::accepts(double step, double error)
{
  if (error > tolerance_ && step > shortest_step * span_) {
    next_ = step * std::max(min_of_rejected, safety * std::sqrt(tolerance_ / error));
    return false;
  }
  next_ = step * std::clamp(safety * std::sqrt(tolerance_ / std::max(error, least_error)),
                            min_of_accepted, max_growth);
  return true;
}

} // namespace hangtrue::heat
