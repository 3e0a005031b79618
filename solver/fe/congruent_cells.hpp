// SPDX-License-Identifier: GPL-3.0-or-later
// Congruent cells: what is integrated over one of them serves all, and a swept door has few shapes
// for its many cells.
#pragma once

#include "solver/fe/cell_values.hpp"

#include <cstddef>
#include <functional>
#include <vector>

namespace hangtrue::fe
{

/// Cells that differ by a translation only, by their indices in BodyMesh::cells.
struct CongruentGroup {
  std::size_t first = 0;
  std::vector<std::size_t> members; ///< `first` among them
};

/// The selected cells of a body by shape, in the order of their firsts; two cells are congruent
/// when their nodes, relative to the first, agree to rounding (1e-13 m).
std::vector<CongruentGroup> congruent_cells(const mesh::BodyMesh& body,
                                            const CellPredicate& include);

/// The values of the first cell of a group at another of it: the same but for cell and nodes, and
/// places, which are the first one's.
CellValues at_member(const CellValues& first, const mesh::BodyMesh& body, std::size_t cell);

/// Calls `visit` with every group and the values of its first cell. Throws ComputeError at a cell
/// that is turned inside out.
void visit_congruent(const Discretization& space, const std::vector<CongruentGroup>& groups,
                     const std::function<void(const CongruentGroup&, const CellValues&)>& visit);

} // namespace hangtrue::fe
