#include "cases/verdict/check_result.hpp"

#include <algorithm>

namespace hangtrue
{

namespace
{

constexpr double most_use = 9.99; // of a limit of nothing, or of something that is not there

} // namespace

std::string verdict_word(Verdict verdict)
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

Finding make_floor(const std::string& name, const StateId& state, double found, const Limit& limit,
                   Kind kind, const std::string& reason)
{
  Finding made = make_finding(name, state, found, limit, kind, 0.0, reason);
  made.at_least = true;
  // A floor of nothing is kept by all that is not less.
  made.use = found > std::max(0.0, limit.value / most_use) ? limit.value / found
             : limit.value <= 0.0 && found >= limit.value  ? 0.0
                                                           : most_use;
  made.verdict = judge_value(made.use, 1.0, 0.0);
  return made;
}

std::string si_unit(const Finding& finding)
{
  return finding.plain ? "1" : si_unit(finding.kind);
}

std::string si_unit(Kind kind)
{
  if (kind == Kind::temperature)
    return "degC";
  if (kind == Kind::force)
    return "N";
  if (kind == Kind::force_per_length)
    return "N/m";
  return kind == Kind::length ? "m" : "Pa";
}

Finding make_finding(const std::string& name, const StateId& state, double found,
                     const Limit& limit, Kind kind, double error, const std::string& reason)
{
  Finding made;
  made.name = name;
  made.state = state;
  made.found = found;
  made.limit = limit.value;
  made.kind = kind;
  made.limit_origin = limit.origin;
  made.use = limit.value > 0.0 ? found / limit.value : found > limit.value ? most_use : 0.0;
  made.error = error;
  made.error_known = error > 0.0;
  made.verdict = judge_value(found, limit.value, error);
  made.reason = reason;
  return made;
}

Verdict judge_value(double found, double limit, double error)
{
  constexpr double near = 0.90; // design rule: closer than this is not called safe
  if (found > limit)
    return Verdict::fails;
  if (found + error > limit || found > near * limit)
    return Verdict::close;
  return Verdict::holds;
}

std::optional<double> told_error(const Finding& finding)
{
  if (!finding.error_known && !(finding.model_error > 0.0))
    return std::nullopt;
  return finding.error + finding.model_error;
}

// At a floor the error counts downwards: the use that the value less its error would have.
Verdict judge_again(const Finding& finding)
{
  const double error = finding.error + finding.model_error;
  if (!finding.at_least)
    return judge_value(finding.found, finding.limit, error);
  const Verdict plain = judge_value(finding.use, 1.0, 0.0);
  const bool reached = finding.found - error < finding.limit;
  return plain == Verdict::holds && reached ? Verdict::close : plain;
}

Verdict worst(const std::vector<Finding>& findings)
{
  Verdict verdict = Verdict::holds;
  for (const auto& f : findings)
    verdict = std::max(verdict, f.verdict);
  return verdict;
}

} // namespace hangtrue
