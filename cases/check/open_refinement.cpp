// SPDX-License-Identifier: GPL-3.0-or-later
#include "cases/check/open_refinement.hpp"

#include "cases/runtime/blas_setup.hpp"
#include "solver/analysis/open_analysis.hpp"
#include "solver/qoi/goal_functionals.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <optional>
#include <utility>

namespace hangtrue::check
{

namespace
{

// Share of the whole that levels up to and with this one take: each costs about twice the last.
double share_up_to(int level, int maximum)
{
  return (std::exp2(level) - 1.0) / (std::exp2(maximum) - 1.0);
}

// Error of the drop: by its dual, or by the change from the coarser mesh. A single mesh gives no
// error of the other quantities, so on it the whole drop counts as error.
double drop_error(const analysis::OpenDoorResult& open, const std::optional<double>& change)
{
  if (!change)
    return std::abs(open.drop);
  const qoi::ContributionSplit* drop = qoi::find_split(open.splits, qoi::Quantity::drop);
  return drop != nullptr && drop->estimated_error
             ? verdict::dwr_error(*drop->estimated_error, open.drop)
             : *change;
}

std::unique_ptr<analysis::AnalysisCache> cache_of_one_door()
{
  return std::make_unique<analysis::AnalysisCache>(
      analysis::CachePolicy{.reuse_across_doors = false, .threads = 2});
}

} // namespace

OpenRefinement::OpenRefinement(const input::DoorCase& door_case, const Progress& progress,
                               analysis::AnalysisCache* shared, const runtime::MemoryPolicy& policy,
                               CheckRun& run)
    : door_case_(door_case), progress_(progress), shared_(shared), policy_(policy), run_(run),
      loop_(door_case.accuracy.finest, door_case.accuracy.tolerance * door_case.limits.drop.value),
      own_(cache_of_one_door())
{
  if (progress_)
    progress_("level 1: mesh", 0.0);
  add_first_meshes();
}

void OpenRefinement::add_first_meshes()
{
  runtime::MemoryEstimate estimate;
  for (int level = 1; level <= std::min(2, door_case_.accuracy.finest); ++level) {
    meshes_.push_back(
        quality::cached_inspected_mesh(door_case_.door, {level, level}, cache().meshes));
    estimate = runtime::estimate_memory(door_case_.door, meshes_.back()->mesh, level);
    runtime::throw_if_exceeds(estimate, policy_, shared_);
  }
  runtime::reserve_blas_buffer();
  if (policy_.report)
    policy_.report(runtime::memory_text(estimate));
}

void OpenRefinement::add_mesh()
{
  const door::RefinementLevel& level = loop_.level();
  meshes_.push_back(quality::cached_inspected_mesh(door_case_.door, level, cache().meshes));
  runtime::throw_if_exceeds(
      runtime::estimate_memory(door_case_.door, meshes_.back()->mesh, level.hinge), policy_,
      shared_);
}

Progress OpenRefinement::progress_of_level() const
{
  const int round = loop_.round();
  const int last_round = std::max(round, std::min(2, door_case_.accuracy.finest));
  const double from = round > 1 ? share_up_to(round - 1, last_round) : 0.0;
  const double to = share_up_to(round, last_round);
  return [this, from, to](const std::string& stage, double done) {
    if (progress_)
      progress_(fmt::format("level {}: {}", level_text(loop_.level()), stage),
                from + done * (to - from));
  };
}

// The last mesh becomes the coarser one, unless the next refines the hinges alone: the change
// between two meshes that are equal elsewhere says nothing of the error there. Results are cleared.
void OpenRefinement::accept_as_coarse()
{
  const door::RefinementLevel last = run_.steps.back().level;
  std::unique_ptr<analysis::AnalysisCache> of_last = std::exchange(own_, cache_of_one_door());
  if (coarser(last, loop_.level())) {
    coarse_.level = last;
    coarse_.mesh = std::move(run_.mesh);
    coarse_.open = std::move(run_.open_cold);
    own_coarse_ = std::move(of_last);
    coarse_.cache = shared_ != nullptr ? shared_ : own_coarse_.get();
  }
  run_.checks.clear();
  run_.open_thermal.clear();
  run_.closed.clear();
  run_.curve.clear();
  run_.closed_history.clear();
  run_.fields.clear();
  run_.quantities.clear();
  run_.wear = {};
}

void OpenRefinement::solve_on(const quality::CachedMesh& mesh, const Progress& part)
{
  const door::RefinementLevel& level = loop_.level();
  run_.mesh = mesh.mesh;
  run_.quality = *mesh.quality;
  const bool last = level.panel > 1 || door_case_.accuracy.finest == 1;
  run_.open_cold = analysis::solve_open_door(
      {.door = door_case_.door,
       .mesh = run_.mesh,
       .progress = part,
       .cache = &cache(),
       .detail = last ? analysis::ResultDetail::contributions : analysis::ResultDetail::split,
       .warm_start = warm_start_});
  warm_start_ = run_.open_cold.active_contacts;
  RefinementStep step{level, run_.open_cold.unknowns, run_.open_cold.drop};
  if (!run_.steps.empty())
    step.change = std::abs(step.drop - run_.steps.back().drop);
  step.drop_error = drop_error(run_.open_cold, step.change);
  run_.steps.push_back(step);
}

void OpenRefinement::solve()
{
  do {
    if (round() > 1)
      accept_as_coarse();
    const Progress part = progress_of_level();
    part("mesh", 0.0);
    if (round() > static_cast<int>(meshes_.size()))
      add_mesh();
    solve_on(*meshes_[static_cast<std::size_t>(round()) - 1], part);
  } while (loop_.refine_for_drop(run_.open_cold, run_.steps.back().drop_error));
  run_.reached = loop_.reached();
}

bool OpenRefinement::refine(bool undecided)
{
  const bool again = loop_.refine_for_verdicts(undecided);
  run_.reached = loop_.reached();
  return again;
}

} // namespace hangtrue::check
