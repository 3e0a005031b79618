// Stress in skins and rim of a warm door, and whether the hot skin might buckle.
//
// Stress at a re-entrant weld corner has no limit as cells shrink, so no value is taken there:
// cells at least two plate thicknesses wide are taken as a whole, their stress is made linear
// through the plate, and the worse face counts.
#pragma once

#include "meshing/door.hpp"
#include "meshing/mesh.hpp"
#include "solver/deflection.hpp"
#include "solver/elastic_body.hpp"

#include <vector>

namespace hangtrue
{

/// A warm panel that has moved: all per node of `body`.
struct WarmPlates {
  const BodyMesh& body;
  const ElasticityOf& of;
  const NodeField& moves;            ///< m
  const std::vector<double>& strain; ///< free strain, as it was loaded
  const std::vector<double>& at;     ///< degC
};

/// Use of skins and rim: the worst place of each, and the field over the cells.
struct PlateUses {
  std::vector<PlateUse> worst;
  std::vector<double> of_cell; ///< stress / proof per cell of the body; below zero: none taken
};

/// Use of inner skin, outer skin and rim against k_p f_y (EN 1993-1-2:2005 Table 3.1): up to the
/// proportional limit heat leaves nothing behind, and an elastic answer is one.
PlateUses plate_uses(const Door& door, const WarmPlates& plates);

/// Mean compression of the inner skin between rim tubes and stiffeners against the least buckling
/// stress of its largest field, edges simply supported: least over m, n of
/// pi^2 D / t ((m/a)^2 + (n/b)^2)^2 / (s_x (m/a)^2 + s_z (n/b)^2) (Timoshenko and Gere, Theory of
/// Elastic Stability, 9.2, from memory). An estimate: welded edges hold better, and a skin that
/// buckles between stiff edges only makes waves.
SkinBuckling skin_buckling(const Door& door, const WarmPlates& plates);

/// Load factor at which a field a x b, m, of thickness t, m, buckles under compressions, Pa, along
/// a and along b; very large where nothing compresses it.
double field_buckling_factor(double a, double b, double t, double youngs_modulus, double poisson,
                             double along_a, double along_b);

} // namespace hangtrue
