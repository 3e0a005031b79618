// SPDX-License-Identifier: GPL-3.0-or-later
// Acceleration of a linearly converging fixed-point iteration.
#pragma once

#include <cstddef>
#include <vector>

namespace hangtrue::linear_algebra
{

/// Mixes the last few steps of an iteration x -> x + step(x) so that what is left of their steps
/// cancels as far as it can (D. G. Anderson, J. ACM 12, 1965, from memory).
class AndersonAcceleration
{
public:
  /// The step to take at `x`, where the plain iteration would take `step`.
  std::vector<double> next(const std::vector<double>& x, const std::vector<double>& step);

private:
  static constexpr std::size_t most = 3; // steps remembered
  std::vector<double> x_;
  std::vector<double> step_;
  std::vector<std::vector<double>> x_change_;
  std::vector<std::vector<double>> step_change_;
};

} // namespace hangtrue::linear_algebra
