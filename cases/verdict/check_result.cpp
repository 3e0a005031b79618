// SPDX-License-Identifier: GPL-3.0-or-later
#include "cases/verdict/check_result.hpp"

#include <algorithm>
#include <cmath>

namespace hangtrue::verdict
{

std::string verdict_text(Verdict verdict)
{
  switch (verdict) {
  case Verdict::holds:
    return "holds";
  case Verdict::close:
    return "close";
  case Verdict::fails:
    return "fails";
  }
  return "";
}

std::optional<double> total_error(const CheckResult& check)
{
  if (!check.error && !(check.model_error > 0.0))
    return std::nullopt;
  return check.error.value_or(0.0) + check.model_error;
}

Verdict verdict_of_value(double found, double limit, double error)
{
  constexpr double near = 0.90; // design rule: closer than this is not called safe
  if (found > limit)
    return Verdict::fails;
  if (found + error > limit || found > near * limit)
    return Verdict::close;
  return Verdict::holds;
}

Verdict worst(const std::vector<CheckResult>& checks)
{
  Verdict verdict = Verdict::holds;
  for (const auto& check : checks)
    verdict = std::max(verdict, check.verdict);
  return verdict;
}

bool above_tolerance(const CheckResult& check, double tolerance)
{
  return check.error && *check.error > tolerance * check.limit;
}

bool verdict_undecided(const CheckResult& check, double tolerance)
{
  return above_tolerance(check, tolerance) && std::abs(check.found - check.limit) < *check.error;
}

} // namespace hangtrue::verdict
