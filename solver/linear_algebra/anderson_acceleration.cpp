// SPDX-License-Identifier: GPL-3.0-or-later
#include "solver/linear_algebra/anderson_acceleration.hpp"

#include <Eigen/Dense>

#include <cmath>

namespace hangtrue::linear_algebra
{

namespace
{

std::vector<double> difference(const std::vector<double>& a, const std::vector<double>& b)
{
  std::vector<double> result(a.size());
  for (std::size_t i = 0; i < a.size(); ++i)
    result[i] = a[i] - b[i];
  return result;
}

double product(const std::vector<double>& a, const std::vector<double>& b)
{
  double sum = 0.0;
  for (std::size_t i = 0; i < a.size(); ++i)
    sum += a[i] * b[i];
  return sum;
}

} // namespace

std::vector<double> AndersonAcceleration::next(const std::vector<double>& x,
                                               const std::vector<double>& step)
{
  if (!x_.empty()) {
    x_change_.push_back(difference(x, x_));
    step_change_.push_back(difference(step, step_));
  }
  if (x_change_.size() > most) {
    x_change_.erase(x_change_.begin());
    step_change_.erase(step_change_.begin());
  }
  x_ = x;
  step_ = step;
  const auto count = static_cast<Eigen::Index>(x_change_.size());
  if (count == 0)
    return step;
  // Least squares by its normal equations, each change scaled to one: three are seldom nearly
  // dependent, and where they are the rank-revealing solution leaves one out.
  Eigen::MatrixXd square(count, count);
  Eigen::VectorXd right(count);
  Eigen::VectorXd scale(count);
  for (Eigen::Index i = 0; i < count; ++i)
    scale[i] = std::sqrt(product(step_change_[i], step_change_[i])) + 1e-300;
  for (Eigen::Index i = 0; i < count; ++i) {
    right[i] = product(step_change_[i], step) / scale[i];
    for (Eigen::Index j = 0; j < count; ++j)
      square(i, j) = product(step_change_[i], step_change_[j]) / (scale[i] * scale[j]);
  }
  Eigen::CompleteOrthogonalDecomposition<Eigen::MatrixXd> factor;
  factor.setThreshold(1e-10);
  const Eigen::VectorXd share = factor.compute(square).solve(right);
  std::vector<double> result = step;
  for (Eigen::Index i = 0; i < count; ++i)
    for (std::size_t k = 0; k < result.size(); ++k)
      result[k] -= share[i] / scale[i] * (x_change_[i][k] + step_change_[i][k]);
  return result;
}

} // namespace hangtrue::linear_algebra
