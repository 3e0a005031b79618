// SPDX-License-Identifier: GPL-3.0-or-later
// Whether a hot skin would buckle between rim and stiffeners under the stress that it has.
#pragma once

#include "meshing/common/vec3.hpp"
#include "meshing/door/door.hpp"
#include "meshing/mesh/mesh.hpp"
#include "solver/strength/plate_buckling.hpp"

#include <string>
#include <vector>

namespace hangtrue::strength
{

struct PlateSample;

/// Buckling of one field of a hot skin with one kind of edge support.
struct FieldBuckling {
  double utilisation = 0.0; ///< 1 / the factor by which its stress may grow; 0: it never buckles
  Vec3 crest;               ///< m, position of the mode's maximum
  int waves_across = 0;     ///< half waves through the crest, along x
  int waves_along = 0;      ///< along z
  double stress = 0.0;      ///< Pa, membrane compression where the mode is displaced (mean by w^2,
                            ///< principal)
  double width = 0.0;       ///< m, of the field, along x
  double height = 0.0;      ///< m, along z
};

/// The field of a skin that buckles first, between both bounds on the support of its edges.
struct SkinBuckling {
  mesh::Part skin = mesh::Part::inner_skin;
  std::string no_verdict; ///< why the theory does not hold for it; empty where it does
  FieldBuckling supported;
  FieldBuckling clamped;
};

/// A field of a skin: what lies between rim, stiffeners and, in a split skin, its cut. Its grid is
/// that of the columns: membrane force (stress in the middle plane x thickness) and stiffness at
/// the temperature of each.
struct SkinField {
  PlateField plate;
  bool free_low = false;  ///< the cut is its edge at lower x
  bool free_high = false; ///< or at higher x
};

/// Fields of the inner or the outer skin by its columns; none of less than ten thicknesses, where a
/// plate yields long before it buckles. Throws ComputeError where columns do not fill a field.
std::vector<SkinField> skin_fields(const door::Door& door, mesh::Part skin,
                                   const std::vector<PlateSample>& columns);

/// The worst field of both skins, with all edges on rim and stiffeners simply supported and with
/// all of them clamped. These are bounds for a skin over lines that do not leave their plane: that
/// slopes agree across a line is one condition more than each field supported alone has, and a mode
/// in a clamped field alone is one of the admissible displacements of the whole skin. `not_judged`
/// where the theory does not hold: an inner skin that is released, a break strip too soft to
/// support its edges. Throws like `skin_fields`.
std::vector<SkinBuckling> skin_buckling(const door::Door& door,
                                        const std::vector<PlateSample>& columns);

} // namespace hangtrue::strength
