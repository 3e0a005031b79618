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

/// "2", or "2 (3 in the hinges)".
std::string level_words(const Levels& levels);

} // namespace hangtrue
