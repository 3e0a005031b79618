// SPDX-License-Identifier: GPL-3.0-or-later
// One time step of a heat problem: a two-stage singly diagonally implicit Runge-Kutta method.
#pragma once

#include "solver/heat/heat_operator.hpp"
#include "solver/linear_algebra/scalar_cholesky.hpp"

#include <vector>

namespace hangtrue::heat
{

/// The result of a step, before it is accepted.
struct Sdirk2Step {
  std::vector<double> t;      ///< degC per unknown, at its end
  std::vector<double> inflow; ///< W per unknown, mean over the step as the method weighs it
  std::vector<double> stored; ///< J per unknown, at its start
  HeatFlows flows;            ///< at its end
  double error = 0.0;         ///< K, estimated, the largest of all unknowns
  int rounds = 0;             ///< of both nonlinear solutions
};

/// A step of length `step` from temperatures `t`, degC per unknown, at `time`; both in s. Second
/// order, L-stable, gamma = 1 - 1/sqrt(2) (Alexander, SIAM J. Numer. Anal. 14, 1977); the error is
/// that against the line through start and first stage, which is of first order. `factor` is of
/// the operator's pattern. Throws ComputeError when a stage does not converge.
Sdirk2Step sdirk2_step(const HeatOperator& op, linear_algebra::ScalarCholesky& factor,
                       const std::vector<double>& t, double time, double step);

/// Heat inflow less what is stored over a step, relative to the throughput.
double energy_imbalance(const HeatOperator& op, const Sdirk2Step& taken, double step);

} // namespace hangtrue::heat
