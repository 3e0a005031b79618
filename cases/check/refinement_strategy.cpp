// SPDX-License-Identifier: GPL-3.0-or-later
#include "cases/check/refinement_strategy.hpp"

#include "cases/verdict/discretization_error.hpp"
#include "solver/system/error_by_region.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

namespace hangtrue::check
{

door::RefinementLevel next_uniform_level(const door::RefinementLevel& now, int finest)
{
  const int target = now.panel < now.hinge ? now.hinge : now.panel + 1;
  const int level = std::max(now.panel, std::min(target, finest));
  return {level, std::max(level, now.hinge)};
}

namespace
{

// Error in what the whole level refines: the panel, and round the pins.
double of_whole(const system::ErrorByRegion& missing)
{
  return std::abs(missing.panel) + std::abs(missing.bores);
}

} // namespace

door::RefinementLevel next_levels(const door::RefinementLevel& now, int finest,
                                  const analysis::OpenDoorResult& open, double target)
{
  // Half of the allowed error is left to the hinges. They have most of it, and along a knuckle it
  // falls fast: docs/mesh-error.md.
  constexpr double share_of_rest = 0.5;
  const qoi::ContributionSplit* drop = qoi::find_split(open.splits, qoi::Quantity::drop);
  if (drop == nullptr || !drop->estimated_error ||
      verdict::dwr_error(of_whole(drop->error_by_region), 0.0) > share_of_rest * target)
    return next_uniform_level(now, finest);
  if (now.hinge < finest)
    return {now.panel, now.hinge + 1};
  // No finer hinges are allowed: refining the rest is worthwhile where without its error the drop
  // is good.
  return verdict::dwr_error(drop->error_by_region.hinges, 0.0) <= target
             ? next_uniform_level(now, finest)
             : now;
}

bool coarser(const door::RefinementLevel& a, const door::RefinementLevel& b)
{
  return a.panel < b.panel && a.hinge < b.hinge;
}

bool finer(const door::RefinementLevel& a, const door::RefinementLevel& b)
{
  return a.panel > b.panel || a.hinge > b.hinge;
}

bool RefinementLoop::step_to(const door::RefinementLevel& next)
{
  if (!finer(next, level_))
    return false;
  level_ = next;
  ++round_;
  return true;
}

bool RefinementLoop::refine_for_drop(const analysis::OpenDoorResult& open, double drop_error)
{
  reached_ = drop_error <= target_;
  return (!reached_ || round_ == 1) && step_to(next_levels(level_, finest_, open, target_));
}

bool RefinementLoop::refine_for_verdicts(bool undecided)
{
  reached_ = reached_ && !undecided;
  return undecided && step_to(next_uniform_level(level_, finest_));
}

std::string level_text(const door::RefinementLevel& level)
{
  return level.hinge == level.panel
             ? fmt::format("{}", level.panel)
             : fmt::format("{} ({} in the hinges)", level.panel, level.hinge);
}

} // namespace hangtrue::check
