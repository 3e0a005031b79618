// SPDX-License-Identifier: GPL-3.0-or-later
// What the next mesh of a check refines, and how a mesh is named.
#pragma once

#include "meshing/door/mesh_density.hpp"
#include "solver/analysis/open_result.hpp"

#include <string>

namespace hangtrue::check
{

/// The next whole level: the panel first reaches the level of finer hinges. `now` where nothing may
/// be finer than `finest`.
door::RefinementLevel next_uniform_level(const door::RefinementLevel& now, int finest);

/// Levels after those on which the error of the drop of `open` is more than `target`, m: the hinges
/// alone where the cells of all else together have less than half of `target` by the drop's dual,
/// else the next whole level. With the hinges at `finest` the rest follows where the hinges alone
/// have no more than `target`, else it is `now`.
door::RefinementLevel next_levels(const door::RefinementLevel& now, int finest,
                                  const analysis::OpenDoorResult& open, double target);

/// True where `a` is coarser than `b` in every part.
bool coarser(const door::RefinementLevel& a, const door::RefinementLevel& b);

/// True where `a` is finer than `b` in any part.
bool finer(const door::RefinementLevel& a, const door::RefinementLevel& b);

/// The meshes of a check one after the other, from the estimated errors of those before. The first
/// two are whole levels, since one mesh alone gives no error estimate.
class RefinementLoop
{
public:
  /// No level is finer than `finest`; `target`, m, is the largest error of the drop.
  RefinementLoop(int finest, double target) : finest_(finest), target_(target) {}

  [[nodiscard]] const door::RefinementLevel& level() const
  {
    return level_;
  }                                                  ///< of the current mesh
  [[nodiscard]] int round() const { return round_; } ///< number of the current mesh, 1 the first
  [[nodiscard]] bool reached() const { return reached_; } ///< the target, by the estimates so far

  /// `drop_error`, m, is the error of the drop of `open` on this mesh. True where that is too much
  /// and a finer mesh may be used, which is then the current one.
  bool refine_for_drop(const analysis::OpenDoorResult& open, double drop_error);

  /// All states were evaluated on this mesh, and some verdict is `undecided` within its error or
  /// none. True where that needs the next whole level and it may be used; it is then the current
  /// one.
  bool refine_for_verdicts(bool undecided);

private:
  int finest_;
  double target_;
  door::RefinementLevel level_;
  int round_ = 1;
  bool reached_ = false;

  bool step_to(const door::RefinementLevel& next);
};

/// "2", or "2 (3 in the hinges)".
std::string level_text(const door::RefinementLevel& level);

} // namespace hangtrue::check
