// SPDX-License-Identifier: GPL-3.0-or-later
// Step size control of a time integration, from the errors of earlier steps.
#pragma once

#include <vector>

namespace hangtrue::heat
{

/// Chooses steps so that the estimated error of each stays below a tolerance. The error of a step
/// of length h is taken to grow as h^2: new step = h `safety` sqrt(tolerance / error), within
/// limits (Hairer, Norsett and Wanner, Solving Ordinary Differential Equations I, II.4, from
/// memory).
class StepController
{
public:
  static constexpr double safety = 0.9;          ///< usual values are 0.8 to 0.9
  static constexpr double min_of_rejected = 0.2; ///< a step that failed becomes no shorter
  static constexpr double max_growth = 3.0;      ///< usual values are 1.5 to 5
  /// After a step that was taken in spite of its error; after any other the next is no shorter than
  /// `safety` of it. No source.
  static constexpr double min_of_accepted = 0.3;
  /// The first step is the whole time over this: a firing of hours starts with half a minute; if
  /// that is far off, a few steps correct it. No source.
  static constexpr double first_steps = 400.0;
  /// Of the whole time: a step this short is accepted whatever its error, so that a jump of the
  /// fire does not stop the integration. No source.
  static constexpr double shortest_step = 1e-6;
  /// Of the whole time: a break or the end nearer than this counts as reached, to rounding.
  static constexpr double reached = 1e-9;
  /// An error below this counts as this much, so that a zero error gives no infinite step; far
  /// below any tolerance, and `most_growth` limits the step long before.
  static constexpr double least_error = 1e-12;

  /// From time `from` to `to`, s, stopping at every one of `breaks`; `tolerance` and errors are in
  /// one unit.
  StepController(double from, double to, double tolerance, std::vector<double> breaks = {});

  /// True when the end has been reached.
  [[nodiscard]] bool done(double time) const;

  /// Length of the step to try at `time`, s.
  [[nodiscard]] double step_at(double time) const;

  /// Takes in the error of a step that was tried; false when it must be tried again, shorter.
  bool accepts(double step, double error);

private:
  double to_;
  double span_;
  double tolerance_;
  std::vector<double> breaks_;
  double next_;
};

} // namespace hangtrue::heat
