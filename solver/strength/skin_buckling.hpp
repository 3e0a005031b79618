// Whether a hot skin would buckle between rim and stiffeners under the stress that it has.
#pragma once

#include "meshing/door/door.hpp"
#include "solver/analysis/open_result.hpp"
#include "solver/strength/plate_buckling.hpp"
#include "solver/strength/plate_stress_average.hpp"

#include <string>
#include <vector>

namespace hangtrue
{

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
std::vector<SkinField> skin_fields(const Door& door, Part skin,
                                   const std::vector<PlateColumn>& columns);

/// The worst field of both skins, with all edges on rim and stiffeners simply supported and with
/// all of them clamped. These are bounds for a skin over lines that do not leave their plane: that
/// slopes agree across a line is one condition more than each field supported alone has, and what
/// moves in a clamped field alone is one of the movements of the whole skin. `not_judged` where the
/// theory does not hold: an inner skin that is let go, a break strip too soft to hold its edges.
/// Throws like `skin_fields`.
std::vector<SkinBuckling> skin_buckling(const Door& door, const std::vector<PlateColumn>& columns);

} // namespace hangtrue
