// SPDX-License-Identifier: GPL-3.0-or-later
// Heat conduction in a body of 27-node hexahedra, steady and transient, nonlinear.
#pragma once

#include "solver/heat/heat_problem.hpp"

#include <functional>
#include <memory>
#include <vector>

namespace hangtrue::heat
{

/// Solves heat problems, steady and in time: element matrices are computed once for any number of
/// solutions.
class HeatSolver
{
public:
  /// Throws ComputeError when nothing conducts.
  explicit HeatSolver(HeatProblem problem);
  ~HeatSolver();
  HeatSolver(HeatSolver&&) noexcept;
  HeatSolver& operator=(HeatSolver&&) noexcept;
  HeatSolver(const HeatSolver&) = delete;
  HeatSolver& operator=(const HeatSolver&) = delete;

  /// Steady temperatures at a time, s, from a guess, degC. Throws ComputeError when the iteration
  /// does not converge.
  [[nodiscard]] TemperatureField steady(double time, double guess) const;

  /// Change of the steady temperatures, K per node, under each of other fluxes in place of
  /// `steady_flux`: to first order, with the conductivity at `at` (degC per node).
  [[nodiscard]] std::vector<std::vector<double>>
  response(const std::vector<double>& temperature, double time,
           const std::vector<SurfaceFluxFunction>& others) const;

  /// Temperatures at rising times, s, from `start`, degC at all nodes. Two-stage singly diagonally
  /// implicit Runge-Kutta of second order (Alexander, SIAM J. Numer. Anal. 14, 1977), L-stable,
  /// radiation implicit, steps chosen so that the estimated error of a step stays below
  /// `tolerance`, K. `observe` is called after every step with time and temperatures. Throws
  /// ComputeError when a step does not converge.
  using StepObserver = std::function<void(double time, const TemperatureField&)>;
  void transient(const std::vector<double>& start, double from, double to, double tolerance,
                 const std::vector<double>& breaks, const StepObserver& observe) const;

private:
  struct Parts;
  std::unique_ptr<Parts> parts_;
};

} // namespace hangtrue::heat
