// SPDX-License-Identifier: GPL-3.0-or-later
// The surface that heat passes through: sides of cells, sorted by kind.
#pragma once

#include "meshing/common/vec3.hpp"
#include "meshing/mesh/mesh.hpp"
#include "solver/fe/discretization.hpp"

#include <array>
#include <functional>
#include <vector>

namespace hangtrue::heat
{

/// A boundary face: nine nodes of one side of a cell, and the kind of surface that it is.
struct HeatFace {
  std::array<int, 9> node{};
  std::array<double, 9> area{}; ///< m^2 that belongs to each node
  int kind = 0;
};

/// Sides of conducting cells that no other conducting cell shares and that do not lie on another
/// such side; `kind_of` sorts them by middle and outward normal, negative for none (adiabatic).
std::vector<HeatFace> outer_faces(
    const fe::Discretization& space, const std::function<bool(const mesh::Hex27&)>& conducts,
    const std::function<int(const mesh::Hex27&, const Vec3& middle, const Vec3& normal)>& kind_of);

} // namespace hangtrue::heat
