// SPDX-License-Identifier: GPL-3.0-or-later
#include "cases/verdict/checks.hpp"

#include "cases/verdict/quantity_table.hpp"

#include <fmt/format.h>

#include <algorithm>

namespace hangtrue::verdict
{

namespace
{

constexpr double max_utilisation = 9.99; // of a limit of nothing, or of something that is not there

double utilisation_of(double found, double limit, bool lower_bound)
{
  if (!lower_bound)
    return limit > 0.0 ? found / limit : found > limit ? max_utilisation : 0.0;
  // A lower bound of zero holds for all that is not less.
  return found > std::max(0.0, limit / max_utilisation) ? limit / found
         : limit <= 0.0 && found >= limit               ? 0.0
                                                        : max_utilisation;
}

// At a lower bound the error counts downwards: the use that the value less its error would have.
Verdict verdict_of(const CheckResult& check, bool lower_bound)
{
  const double error = check.error.value_or(0.0) + check.model_error;
  if (!lower_bound)
    return verdict_of_value(check.found, check.limit, error);
  const Verdict plain = verdict_of_value(check.utilisation, 1.0, 0.0);
  const bool reached = check.found - error < check.limit;
  return plain == Verdict::holds && reached ? Verdict::close : plain;
}

// A check that holds but whose range crosses its limit is close; one that fails stays.
void add_likely(const input::DoorCase& c, bool lower_bound, CheckResult& check)
{
  const auto [low, high] = *check.likely_range;
  check.reason += fmt::format("; likely between {} and {} (--spread)",
                              value_text(check.id.quantity, low, c.units),
                              value_text(check.id.quantity, high, c.units));
  const bool crosses = lower_bound ? low < check.limit : high > check.limit;
  if (check.verdict == Verdict::holds && crosses)
    check.verdict = Verdict::close;
}

CheckResult evaluate_check(const input::DoorCase& c, const QuantityOfInterest& q)
{
  const bool lower_bound = row_of(q.id.quantity).lower_bound;
  CheckResult check;
  check.id = q.id;
  check.found = q.value;
  check.limit = q.limit->value;
  check.limit_origin = q.limit->origin;
  check.utilisation = utilisation_of(check.found, check.limit, lower_bound);
  check.error = q.error;
  check.model_error = q.model_error;
  check.likely_range = q.likely_range;
  check.verdict = verdict_of(check, lower_bound);
  check.reason = q.reason;
  if (check.likely_range)
    add_likely(c, lower_bound, check);
  return check;
}

} // namespace

std::vector<CheckResult> evaluate_checks(const input::DoorCase& door_case,
                                         const std::vector<QuantityOfInterest>& quantities)
{
  std::vector<CheckResult> checks;
  for (const auto& q : quantities)
    if (q.limit)
      checks.push_back(evaluate_check(door_case, q));
  return checks;
}

} // namespace hangtrue::verdict
