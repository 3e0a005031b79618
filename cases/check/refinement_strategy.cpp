#include "cases/check/refinement_strategy.hpp"

#include "cases/verdict/discretization_error.hpp"
#include "solver/system/error_by_region.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

namespace hangtrue
{

Levels next_whole(const Levels& now, int finest)
{
  const int wanted = now.whole < now.in_hinges ? now.in_hinges : now.whole + 1;
  const int level = std::max(now.whole, std::min(wanted, finest));
  return {level, std::max(level, now.in_hinges)};
}

namespace
{

// Error in what the whole level refines: the panel, and round the pins.
double of_whole(const MissingIn& missing)
{
  return std::abs(missing.panel) + std::abs(missing.bores);
}

} // namespace

Levels next_levels(const Levels& now, int finest, const Deflection& open, double wanted)
{
  // Half of the allowed error is left to the hinges. They have most of it, and along a knuckle it
  // falls fast: docs/mesh-error.md.
  constexpr double share_of_rest = 0.5;
  const ContributionSplit* drop = find_split(open.splits, Quantity::drop);
  if (drop == nullptr || !drop->missing ||
      error_by_dual(of_whole(drop->missing_in), 0.0) > share_of_rest * wanted)
    return next_whole(now, finest);
  if (now.in_hinges < finest)
    return {now.whole, now.in_hinges + 1};
  // No finer hinges are allowed: refining the rest is worthwhile where without its error the drop
  // is good.
  return error_by_dual(drop->missing_in.hinges, 0.0) <= wanted ? next_whole(now, finest) : now;
}

bool coarser(const Levels& a, const Levels& b)
{
  return a.whole < b.whole && a.in_hinges < b.in_hinges;
}

bool finer(const Levels& a, const Levels& b)
{
  return a.whole > b.whole || a.in_hinges > b.in_hinges;
}

bool RefinementLoop::step_to(const Levels& next)
{
  if (!finer(next, levels_))
    return false;
  levels_ = next;
  ++round_;
  return true;
}

bool RefinementLoop::refine_for_drop(const Deflection& open, double drop_error)
{
  reached_ = drop_error <= wanted_;
  return (!reached_ || round_ == 1) && step_to(next_levels(levels_, finest_, open, wanted_));
}

bool RefinementLoop::refine_for_verdicts(bool undecided)
{
  reached_ = reached_ && !undecided;
  return undecided && step_to(next_whole(levels_, finest_));
}

std::string level_words(const Levels& levels)
{
  return levels.in_hinges == levels.whole
             ? fmt::format("{}", levels.whole)
             : fmt::format("{} ({} in the hinges)", levels.whole, levels.in_hinges);
}

} // namespace hangtrue
