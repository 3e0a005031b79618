// SPDX-License-Identifier: GPL-3.0-or-later
#include "solver/heat/nonlinear_heat_solve.hpp"

#include "meshing/common/errors.hpp"
#include "solver/linear_algebra/anderson_acceleration.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <utility>

namespace hangtrue::heat
{

namespace
{

// True where the remaining iterations with the old factor take longer than a new one and its own.
bool wants_factor(double left, double before, double enough, const NonlinearHeatOptions& options)
{
  const double rate = left / before;
  return rate > options.good_rate &&
         (rate >= 1.0 || std::log(enough / left) / std::log(rate) > options.rounds_per_factor);
}

struct Residual {
  std::vector<double> of; // J in a step, W steady
  double left = 0.0;      // sum of magnitudes
  double scale = 0.0;     // the throughput, in the same unit
};

Residual residual_of(const HeatOperator& op, const HeatStage& stage, const std::vector<double>& t,
                     const HeatFlows& flows)
{
  const double step = stage.in_time ? stage.in_time->step : 1.0;
  const auto heat = stage.in_time ? op.stored(t) : std::vector<double>{};
  Residual residual{std::vector<double>(t.size()), 0.0, flows.throughput * step};
  for (std::size_t u = 0; u < t.size(); ++u) {
    residual.of[u] =
        step * flows.inflow[u] + (stage.in_time ? stage.in_time->heat[u] - heat[u] : 0.0);
    if (op.is_prescribed(u)) {
      residual.scale += std::abs(step * flows.inflow[u]);
      residual.of[u] = 0.0;
    }
    residual.left += std::abs(residual.of[u]);
  }
  return residual;
}

// Updates the free unknowns; the largest change, K.
double move_free(const HeatOperator& op, const std::vector<double>& change, std::vector<double>& t)
{
  double largest = 0.0;
  for (std::size_t u = 0; u < t.size(); ++u)
    if (!op.is_prescribed(u)) {
      t[u] += change[u];
      largest = std::max(largest, std::abs(change[u]));
    }
  return largest;
}

} // namespace

HeatSolution solve_nonlinear_heat(const HeatOperator& op, linear_algebra::ScalarCholesky& factor,
                                  std::vector<double> guess, const HeatStage& stage,
                                  FirstFactor first, const NonlinearHeatOptions& options)
{
  constexpr double rounding = 1e-11; // of the temperatures: no round changes more by then
  constexpr int before_rounding = 3; // iterations that are done in any case
  const double tolerance = stage.in_time ? options.stage_tolerance : options.steady_tolerance;
  HeatSolution found{std::move(guess), {}, 0};
  std::vector<double>& t = found.t;
  op.prescribe(t, stage.time);
  linear_algebra::AndersonAcceleration acceleration;
  double before = 0.0;
  for (found.rounds = 1; found.rounds <= options.max_rounds; ++found.rounds) {
    found.flows = op.flows(t, stage.time, stage.in_time ? op.flux() : op.steady_flux());
    const Residual residual = residual_of(op, stage, t, found.flows);
    const double enough = tolerance * residual.scale;
    if (residual.left <= enough || residual.left == 0.0)
      return found;
    if (found.rounds == 1 ? first == FirstFactor::renew
                          : wants_factor(residual.left, before, enough, options)) {
      acceleration = {};
      factor.factor(op.jacobian(found.flows,
                                stage.in_time ? op.capacity(t) : std::vector<double>(t.size(), 0.0),
                                stage.in_time ? stage.in_time->step : 1.0));
    }
    before = residual.left;
    const double largest = move_free(op, acceleration.next(t, factor.solve(residual.of)), t);
    if (largest < rounding * (1.0 + std::abs(t[0])) && found.rounds > before_rounding)
      return found;
  }
  throw ComputeError(
      fmt::format("heat: the temperatures did not converge in {} iterations at {:.0f} s; look at "
                  "the surface values of the fire",
                  options.max_rounds, stage.time));
}

} // namespace hangtrue::heat
