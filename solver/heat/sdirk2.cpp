// SPDX-License-Identifier: GPL-3.0-or-later
#include "solver/heat/sdirk2.hpp"

#include "solver/heat/nonlinear_heat_solve.hpp"

#include <algorithm>
#include <cmath>
#include <utility>

namespace hangtrue::heat
{

Sdirk2Step sdirk2_step(const HeatOperator& op, linear_algebra::ScalarCholesky& factor,
                       const std::vector<double>& t, double time, double step)
{
  const double gamma = 1.0 - std::sqrt(0.5);
  Sdirk2Step taken;
  taken.stored = op.stored(t);
  // Stage 1 at gamma h, stage 2 at h.
  const HeatSolution first = solve_nonlinear_heat(
      op, factor, t,
      {.time = time + gamma * step, .in_time = HeatStage::InTime{gamma * step, taken.stored}},
      FirstFactor::renew);
  std::vector<double> heat = taken.stored;
  for (std::size_t u = 0; u < heat.size(); ++u)
    heat[u] += (1.0 - gamma) * step * first.flows.inflow[u];
  HeatSolution second = solve_nonlinear_heat(
      op, factor, first.t,
      {.time = time + step, .in_time = HeatStage::InTime{gamma * step, std::move(heat)}},
      FirstFactor::reuse);
  taken.inflow.resize(t.size());
  for (std::size_t u = 0; u < t.size(); ++u) {
    taken.inflow[u] = (1.0 - gamma) * first.flows.inflow[u] + gamma * second.flows.inflow[u];
    if (!op.is_prescribed(u)) {
      const double line = t[u] + (first.t[u] - t[u]) / gamma;
      taken.error = std::max(taken.error, 0.5 * gamma * std::abs(second.t[u] - line));
    }
  }
  taken.rounds = first.rounds + second.rounds;
  taken.t = std::move(second.t);
  taken.flows = std::move(second.flows);
  return taken;
}

double energy_imbalance(const HeatOperator& op, const Sdirk2Step& taken, double step)
{
  const auto after = op.stored(taken.t);
  double balance = 0.0;
  double through = 0.0;
  for (std::size_t u = 0; u < after.size(); ++u) {
    const double in = step * taken.inflow[u];
    if (!op.is_prescribed(u))
      balance += in - (after[u] - taken.stored[u]);
    through += std::abs(after[u] - taken.stored[u]);
  }
  return std::abs(balance) / std::max(through, step * taken.flows.throughput + 1e-30);
}

} // namespace hangtrue::heat
