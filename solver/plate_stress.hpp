// Stress in skins and rim of a warm door, and whether the hot skin might buckle.
#pragma once

#include "meshing/door.hpp"
#include "meshing/mesh.hpp"
#include "solver/deflection.hpp"
#include "solver/plate_patches.hpp"

#include <cstddef>
#include <vector>

namespace hangtrue
{

/// Use of skins and rim: the worst place of each, and the field over the cells.
struct PlateUses {
  std::vector<PlateUse> worst;
  std::vector<double> of_cell; ///< stress / proof per cell of the body, its worst; below zero: none
};

/// Use of inner skin, outer skin and rim against k_p f_y (EN 1993-1-2:2005 Table 3.1): up to the
/// proportional limit heat leaves nothing behind, and an elastic answer is one. Stress is a mean
/// over a patch as wide as the rim, the worse face counts: at a weld corner steel may yield over a
/// few thicknesses, and what stays elastic round it brings the plate back. `cells` are those
/// of the body that the columns are of.
PlateUses plate_uses(const Door& door, const std::vector<PlateColumn>& columns, std::size_t cells);

/// Mean compression of the inner skin between rim tubes and stiffeners against the least buckling
/// stress of its largest field, edges simply supported: least over m, n of
/// pi^2 D / t ((m/a)^2 + (n/b)^2)^2 / (s_x (m/a)^2 + s_z (n/b)^2) (Timoshenko and Gere, Theory of
/// Elastic Stability, 9.2, from memory). An estimate: welded edges hold better, and a skin that
/// buckles between stiff edges only makes waves.
SkinBuckling skin_buckling(const Door& door, const std::vector<PlateColumn>& columns);

/// Load factor at which a field a x b, m, of thickness t, m, buckles under compressions, Pa, along
/// a and along b; very large where nothing compresses it.
double field_buckling_factor(double a, double b, double t, double youngs_modulus, double poisson,
                             double along_a, double along_b);

} // namespace hangtrue
