// SPDX-License-Identifier: GPL-3.0-or-later
// Stress in skins and rim as a mean over patches of one physical size, whatever the mesh.
//
// Stress at a re-entrant weld corner diverges as cells shrink, but its mean over an area of fixed
// size converges.
#pragma once

#include "meshing/common/vec3.hpp"
#include "meshing/door/door.hpp"
#include "meshing/mesh/mesh.hpp"
#include "solver/elasticity/stress.hpp"

#include <array>
#include <vector>

namespace hangtrue::strength
{

/// A heated panel after displacement: all per node of its body.
struct HotPlates {
  const fe::Discretization& space;
  const elasticity::CellElasticity& elasticity;
  const elasticity::NodeField& displacements; ///< m
  const std::vector<double>& strain;          ///< free strain, as it was loaded
  const std::vector<double>& temperature;     ///< degC
};

/// A small rectangle of a flat plate, all through its thickness: a third of a cell in each
/// direction. Its stress is taken as linear through the plate.
struct PlateSample {
  mesh::Part part = mesh::Part::rim;
  int plate = 0;                ///< the same number for what lies in one plane
  int cell = 0;                 ///< of the body
  std::array<double, 2> low{};  ///< m, in the plane
  std::array<double, 2> high{}; ///< m
  Vec3 middle;                  ///< m
  double thickness = 0.0;       ///< m, of the plate
  double volume = 0.0;          ///< m^3
  double temperature = 0.0;     ///< degC, mean
  elasticity::Stress mean;      ///< Pa, in its middle plane
  elasticity::Stress slope;     ///< Pa/m through the plate
};

/// Columns of both skins and of the rim's walls; none where two walls of a tube meet, which is no
/// plate.
std::vector<PlateSample> plate_samples(const door::Door& door, const HotPlates& plates);

/// Every column with the means over the patch round its middle in place of its own: columns of the
/// same plate, weighted by (1 - |u| / reach) (1 - |v| / reach) at distances u and v, m. Such a
/// patch counts as one of sides `reach`, m; it ends where the plate does.
std::vector<PlateSample> average_over_patches(const std::vector<PlateSample>& columns,
                                              double reach);

} // namespace hangtrue::strength
