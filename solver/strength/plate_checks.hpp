// SPDX-License-Identifier: GPL-3.0-or-later
// Stress in skins and rim of a hot door.
#pragma once

#include "meshing/common/vec3.hpp"
#include "meshing/door/door.hpp"
#include "meshing/mesh/mesh.hpp"

#include <cstddef>
#include <vector>

namespace hangtrue::strength
{

struct PlateSample;

/// Worst use of a plate by the stress in it, against the stress up to which it stays elastic.
struct PlateUtilisation {
  mesh::Part plate = mesh::Part::rim; ///< inner skin, outer skin or rim
  Vec3 place;                         ///< m
  double stress = 0.0;      ///< Pa, von Mises, linear through the plate, mean over a patch
  double proof = 0.0;       ///< Pa, k_p f_y at the temperature there
  double temperature = 0.0; ///< degC
  double utilisation = 0.0; ///< stress / proof
};

/// "inner skin", "outer skin" or "rim". For texts alone, never to compare.
const char* plate_label(mesh::Part plate);

/// Use of skins and rim: the worst place of each, and the field over the cells.
struct PlateUtilisations {
  std::vector<PlateUtilisation> worst;
  std::vector<double> by_cell; ///< stress / proof per cell of the body, its worst; below zero: none
};

/// Use of inner skin, outer skin and rim against k_p f_y (EN 1993-1-2:2005 Table 3.1): up to the
/// proportional limit heat leaves no permanent strain, and the elastic solution is valid. Stress is
/// a mean over a patch as wide as the rim, the worse face counts: at a weld corner steel may yield
/// over a few thicknesses, and the elastic steel round it restores the plate. `cells` are those of
/// the body that the columns are of.
PlateUtilisations plate_utilisations(const door::Door& door,
                                     const std::vector<PlateSample>& columns, std::size_t cells);

} // namespace hangtrue::strength
