// SPDX-License-Identifier: GPL-3.0-or-later
// Temperatures that satisfy one implicit heat equation, by Newton's method with frozen
// conductivity.
#pragma once

#include "solver/heat/heat_operator.hpp"
#include "solver/linear_algebra/scalar_cholesky.hpp"

#include <optional>
#include <vector>

namespace hangtrue::heat
{

/// The equation: 0 = inflow(t), which is the steady state, or one stage of a time step, stored(t) =
/// `heat` + `step` inflow(t).
struct HeatStage {
  struct InTime {
    double step = 0.0;        ///< s
    std::vector<double> heat; ///< J, per unknown
  };
  double time = 0.0;               ///< s, of fluxes and prescribed temperatures
  std::optional<InTime> in_time{}; ///< nothing where it is steady
};

/// Whether the existing factor serves the first iteration: it does when it is of the same step at
/// temperatures near by.
enum class FirstFactor { renew, reuse };

/// How the iteration ends, and when it takes a new factor.
struct NonlinearHeatOptions {
  int max_rounds = 60;
  /// Of the throughput, where a residual is small enough: a hundredth of what the energy may fail
  /// to close by.
  double steady_tolerance = 1e-10;
  double stage_tolerance = 1e-8;
  /// An iteration that reduces the residual to less than this converges nearly as fast as with a
  /// new factor.
  double good_rate = 0.2;
  /// With more rounds to go than these with the old factor a new one pays: it costs as much as
  /// some ten rounds. No source.
  double rounds_per_factor = 8.0;
};

/// Temperatures, degC per unknown, with the flows at them.
struct HeatSolution {
  std::vector<double> t;
  HeatFlows flows;
  int rounds = 0;
};

/// Solves a stage from a guess, degC per unknown; leaves the last factor in `factor`, which is of
/// the operator's pattern. Throws ComputeError when the iteration does not converge.
HeatSolution solve_nonlinear_heat(const HeatOperator& op, linear_algebra::ScalarCholesky& factor,
                                  std::vector<double> guess, const HeatStage& stage,
                                  FirstFactor first, const NonlinearHeatOptions& options = {});

} // namespace hangtrue::heat
