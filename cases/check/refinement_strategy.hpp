// What the next mesh of a check refines, and how a mesh is named.
#pragma once

#include "meshing/door/mesh_density.hpp"
#include "solver/analysis/open_result.hpp"

#include <string>

namespace hangtrue
{

/// The next whole level: the panel first reaches the level of finer hinges. `now` where nothing may
/// be finer than `finest`.
Levels next_whole(const Levels& now, int finest);

/// Levels after those on which the error of the drop of `open` is more than `wanted`, m: the hinges
/// alone where the cells of all else together have less than half of `wanted` by the drop's dual,
/// else the next whole level. With the hinges at `finest` the rest follows where the hinges alone
/// have no more than `wanted`, else it is `now`.
Levels next_levels(const Levels& now, int finest, const Deflection& open, double wanted);

/// True where `a` is coarser than `b` in every part.
bool coarser(const Levels& a, const Levels& b);

/// True where `a` is finer than `b` in any part.
bool finer(const Levels& a, const Levels& b);

/// The meshes of a check one after the other, from what the ones before were found to miss. The
/// first two are whole levels, since one mesh alone tells no errors.
class RefinementLoop
{
public:
  /// No level is finer than `finest`; the drop may miss `wanted`, m.
  RefinementLoop(int finest, double wanted) : finest_(finest), wanted_(wanted) {}

  [[nodiscard]] const Levels& levels() const { return levels_; } ///< of the mesh at hand
  [[nodiscard]] int round() const { return round_; } ///< number of the mesh at hand, 1 the first
  [[nodiscard]] bool reached() const { return reached_; } ///< what is wanted, by what was asked

  /// The drop of `open` misses `drop_error`, m, on this mesh. True where that is too much and a
  /// finer mesh may be used, which is at hand then.
  bool refine_for_drop(const Deflection& open, double drop_error);

  /// All states were judged on this mesh, and some verdict is `undecided` within its error or none.
  /// True where that asks for the next whole level and it may be used; it is at hand then.
  bool refine_for_verdicts(bool undecided);

private:
  int finest_;
  double wanted_;
  Levels levels_;
  int round_ = 1;
  bool reached_ = false;

  bool step_to(const Levels& next);
};

/// "2", or "2 (3 in the hinges)".
std::string level_words(const Levels& levels);

} // namespace hangtrue
