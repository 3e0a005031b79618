#include "cases/check/open_levels.hpp"

#include "cases/runtime/blas_setup.hpp"
#include "solver/analysis/open_analysis.hpp"
#include "solver/qoi/goal_functionals.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <optional>
#include <utility>

namespace hangtrue
{

namespace
{

// Share of the whole that levels up to and with this one take: each costs about twice the last.
double share_up_to(int level, int most)
{
  return (std::exp2(level) - 1.0) / (std::exp2(most) - 1.0);
}

// What the drop may miss: by its dual, or by the change from the level before. A single level
// tells nothing about the error of all else, so nothing is taken for sure on it.
double drop_error(const Deflection& open, const std::optional<double>& change)
{
  if (!change)
    return std::abs(open.drop);
  const ContributionSplit* drop = find_split(open.splits, Quantity::drop);
  return drop != nullptr && drop->missing ? error_by_dual(*drop->missing, open.drop) : *change;
}

std::unique_ptr<AnalysisCache> cache_of_one_door()
{
  return std::make_unique<AnalysisCache>(CachePolicy{.reuse_across_doors = false, .threads = 2});
}

} // namespace

OpenLevels::OpenLevels(const DoorCase& door_case, const Progress& progress, AnalysisCache* shared,
                       const MemoryCare& care, CheckRun& run)
    : door_case_(door_case), progress_(progress), shared_(shared), care_(care), run_(run),
      loop_(door_case.accuracy.finest, door_case.accuracy.tolerance * door_case.limits.drop.value),
      own_(cache_of_one_door())
{
  if (progress_)
    progress_("level 1: mesh", 0.0);
  add_first_meshes();
}

void OpenLevels::add_first_meshes()
{
  MemoryNeed need;
  for (int level = 1; level <= std::min(2, door_case_.accuracy.finest); ++level) {
    meshes_.push_back(inspected_mesh(door_case_.door, {level, level}, cache().meshes));
    need = memory_need(door_case_.door, meshes_.back()->mesh, level);
    keep_within(need, care_, shared_);
  }
  take_dense_space();
  if (care_.tell)
    care_.tell(memory_words(need));
}

void OpenLevels::add_mesh()
{
  const Levels& levels = loop_.levels();
  meshes_.push_back(inspected_mesh(door_case_.door, levels, cache().meshes));
  keep_within(memory_need(door_case_.door, meshes_.back()->mesh, levels.in_hinges), care_, shared_);
}

Progress OpenLevels::progress_of_level() const
{
  const int round = loop_.round();
  const int likely = std::max(round, std::min(2, door_case_.accuracy.finest));
  const double from = round > 1 ? share_up_to(round - 1, likely) : 0.0;
  const double to = share_up_to(round, likely);
  return [this, from, to](const std::string& stage, double done) {
    if (progress_)
      progress_(fmt::format("level {}: {}", level_words(loop_.levels()), stage),
                from + done * (to - from));
  };
}

// The last mesh becomes the one before, unless the next refines the hinges alone: a change between
// two that cut the rest alike would tell nothing about it. What was judged is forgotten.
void OpenLevels::step_back()
{
  const Levels last = run_.levels.back().levels;
  std::unique_ptr<AnalysisCache> of_last = std::exchange(own_, cache_of_one_door());
  if (coarser(last, loop_.levels())) {
    before_.levels = last;
    before_.mesh = std::move(run_.mesh);
    before_.open = std::move(run_.deflection);
    own_before_ = std::move(of_last);
    before_.parts = shared_ != nullptr ? shared_ : own_before_.get();
  }
  run_.checks.clear();
  run_.warm.clear();
  run_.closed.clear();
  run_.curve.clear();
  run_.shut_way.clear();
  run_.fields.clear();
  run_.quantities.clear();
  run_.wear = {};
}

void OpenLevels::solve_on(const KeptMesh& mesh, const Progress& part)
{
  const Levels& levels = loop_.levels();
  run_.mesh = mesh.mesh;
  run_.quality = *mesh.inspected;
  const bool last = levels.whole > 1 || door_case_.accuracy.finest == 1;
  run_.deflection = solve_open_door({.door = door_case_.door,
                                     .mesh = run_.mesh,
                                     .progress = part,
                                     .cache = &cache(),
                                     .detail = last ? OpenDetail::budget : OpenDetail::parts,
                                     .warm_start = foreseen_});
  foreseen_ = run_.deflection.touches;
  LevelAnswer answer{levels, run_.deflection.unknowns, run_.deflection.drop};
  if (!run_.levels.empty())
    answer.change = std::abs(answer.drop - run_.levels.back().drop);
  answer.drop_error = drop_error(run_.deflection, answer.change);
  run_.levels.push_back(answer);
}

void OpenLevels::solve()
{
  do {
    if (round() > 1)
      step_back();
    const Progress part = progress_of_level();
    part("mesh", 0.0);
    if (round() > static_cast<int>(meshes_.size()))
      add_mesh();
    solve_on(*meshes_[static_cast<std::size_t>(round()) - 1], part);
  } while (loop_.refine_for_drop(run_.deflection, run_.levels.back().drop_error));
  run_.reached = loop_.reached();
}

bool OpenLevels::refine(bool undecided)
{
  const bool again = loop_.refine_for_verdicts(undecided);
  run_.reached = loop_.reached();
  return again;
}

} // namespace hangtrue
