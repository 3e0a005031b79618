// SPDX-License-Identifier: GPL-3.0-or-later
// Ranges of the results from inputs that are known within a tolerance only.
#pragma once

#include "solver/sensitivity/adjoint_sensitivity.hpp"

#include <string>
#include <vector>

namespace hangtrue::check
{

/// Effect of one uncertain size or property on one quantity of interest, at the end of its
/// tolerance.
struct IntervalTerm {
  std::string key;
  std::string what;
  double by = 0.0; ///< m, with its sign for more of it
};

/// One quantity of interest and how far it may be off to either side.
struct QoiInterval {
  qoi::QoiId id;
  double found = 0.0;              ///< m, value in the check
  double rss = 0.0;                ///< m, root of the sum of squares of the terms
  double worst_case = 0.0;         ///< m, sum of the terms: all in the worst direction at once
  std::vector<IntervalTerm> terms; ///< the greatest first
};

/// One band, SI, as it was used.
struct AppliedTolerance {
  std::string key;
  std::string what;
  double value = 0.0;
  double half = 0.0;
  bool factor = false; ///< both are factors
  bool given = false;
};

/// The results of `--spread` in a check.
struct UncertaintyResult {
  std::vector<AppliedTolerance> tolerances;
  std::vector<sensitivity::UncertainInput> inputs;
  std::vector<sensitivity::QoiSensitivities> sensitivities;
  std::vector<QoiInterval> intervals;
};

} // namespace hangtrue::check
