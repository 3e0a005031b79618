// SPDX-License-Identifier: GPL-3.0-or-later
// One check: a quantity of interest against its limit, with verdict, origin and reason.
#pragma once

#include "solver/qoi/qoi_id.hpp"

#include <optional>
#include <string>
#include <utility>
#include <vector>

namespace hangtrue::verdict
{

/// What a check comes to.
enum class Verdict {
  holds,
  close, ///< within the error estimate of the limit, or above 90 % of it
  fails
};

/// The verdict as terminal and files write it.
std::string verdict_text(Verdict verdict);

/// The result of a check.
struct CheckResult {
  qoi::QoiId id;
  double found = 0.0; ///< SI
  double limit = 0.0; ///< SI
  std::string limit_origin;
  /// found / limit, or limit / found of a lower bound; with a limit of zero 0, or 9.99 where it
  /// fails
  double utilisation = 0.0;
  std::optional<double> error{}; ///< SI, discretization error of `found`; nothing if unknown
  double model_error = 0.0;      ///< SI, of inexact model inputs; no mesh reduces it
  std::optional<std::pair<double, double>> likely_range{}; ///< SI, range from [spread]; on request
  Verdict verdict = Verdict::holds;
  std::string reason; ///< a sentence in the user's words
};

/// Error of the value, SI: discretization and model together; nothing where neither is known.
std::optional<double> total_error(const CheckResult& check);

/// Verdict by the rule of the program: fails above the limit, close when the error estimate reaches
/// it or above 90 % of it, holds otherwise.
Verdict verdict_of_value(double found, double limit, double error);

/// The worst verdict; `holds` for an empty list.
Verdict worst(const std::vector<CheckResult>& checks);

/// True where the error is more than the requested fraction of the limit.
bool above_tolerance(const CheckResult& check, double tolerance);

/// True where besides the limit lies within the error, so that a finer mesh could turn the verdict.
bool verdict_undecided(const CheckResult& check, double tolerance);

} // namespace hangtrue::verdict
