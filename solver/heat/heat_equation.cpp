// SPDX-License-Identifier: GPL-3.0-or-later
#include "solver/heat/heat_equation.hpp"

#include "solver/heat/heat_operator.hpp"
#include "solver/heat/nonlinear_heat_solve.hpp"
#include "solver/heat/sdirk2.hpp"
#include "solver/heat/step_controller.hpp"
#include "solver/linear_algebra/scalar_cholesky.hpp"

#include <cmath>
#include <utility>

namespace hangtrue::heat
{

struct HeatSolver::Parts {
  HeatOperator op;
  mutable linear_algebra::ScalarCholesky factor; // of the last Jacobian; its ordering is found once

  explicit Parts(HeatProblem problem) : op(std::move(problem)), factor(op.pattern()) {}
};

HeatSolver::HeatSolver(HeatProblem problem) : parts_(std::make_unique<Parts>(std::move(problem))) {}

HeatSolver::~HeatSolver() = default;
HeatSolver::HeatSolver(HeatSolver&&) noexcept = default;
HeatSolver& HeatSolver::operator=(HeatSolver&&) noexcept = default;

TemperatureField HeatSolver::steady(double time, double guess) const
{
  const HeatOperator& op = parts_->op;
  const HeatSolution found =
      solve_nonlinear_heat(op, parts_->factor, std::vector<double>(op.unknowns(), guess),
                           {.time = time, .in_time = std::nullopt}, FirstFactor::renew);
  const HeatFlows& flows = found.flows;
  double net = 0.0;
  double through = flows.throughput;
  for (std::size_t u = 0; u < flows.inflow.size(); ++u) {
    net += flows.inflow[u];
    if (op.is_prescribed(u)) { // what such a node takes up leaves the body there
      net -= flows.inflow[u];
      through += std::abs(flows.inflow[u]);
    }
  }
  return {op.at_nodes(found.t, std::vector<double>(op.nodes(), guess)), flows.through,
          through > 0.0 ? std::abs(net) / through : 0.0, found.rounds};
}

std::vector<std::vector<double>>
HeatSolver::response(const std::vector<double>& temperature, double time,
                     const std::vector<SurfaceFluxFunction>& others) const
{
  const HeatOperator& op = parts_->op;
  const std::vector<double> t = op.of_unknowns(temperature);
  const HeatFlows as_is = op.flows(t, time, op.steady_flux());
  parts_->factor.factor(op.jacobian(as_is, std::vector<double>(t.size(), 0.0), 1.0));
  const auto by_surfaces = [&](const SurfaceFluxFunction& flux) {
    HeatFlows flows = as_is;
    flows.inflow.assign(t.size(), 0.0);
    op.add_surfaces(t, time, flux, flows);
    return flows.inflow;
  };
  const std::vector<double> before = by_surfaces(op.steady_flux());
  std::vector<std::vector<double>> result;
  for (const auto& other : others) {
    std::vector<double> more = by_surfaces(other);
    for (std::size_t u = 0; u < t.size(); ++u)
      more[u] = op.is_prescribed(u) ? 0.0 : more[u] - before[u];
    result.push_back(op.at_nodes(parts_->factor.solve(more), std::vector<double>(op.nodes(), 0.0)));
  }
  return result;
}

void HeatSolver::transient(const std::vector<double>& start, double from, double to,
                           double tolerance, const std::vector<double>& breaks,
                           const StepObserver& observe) const
{
  const HeatOperator& op = parts_->op;
  StepController steps(from, to, tolerance, breaks);
  std::vector<double> t = op.of_unknowns(start);
  for (double time = from; !steps.done(time);) {
    const double step = steps.step_at(time);
    const Sdirk2Step taken = sdirk2_step(op, parts_->factor, t, time, step);
    if (!steps.accepts(step, taken.error))
      continue;
    t = taken.t;
    time += step;
    observe(time, {op.at_nodes(t, start), taken.flows.through, energy_imbalance(op, taken, step),
                   taken.rounds});
  }
}

} // namespace hangtrue::heat
