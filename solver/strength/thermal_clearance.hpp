// SPDX-License-Identifier: GPL-3.0-or-later
// What heat leaves of the play in the bores, by closed form from the temperatures.
#pragma once

#include "meshing/door/door.hpp"
#include "solver/heat/thermal_state.hpp"

#include <vector>

namespace hangtrue::strength
{

/// What heat leaves of the play in the bores of one hinge, m.
struct ThermalClearance {
  int hinge = 0;
  double bore = 0.0; ///< diametral, of the tighter of door and frame knuckles
};

/// Diametral clearance left in the bores, d (e_knuckle - e_pin) added to the nominal one for the
/// tighter of door and frame knuckles; e is the steel's elongation. Plain geometry.
std::vector<ThermalClearance> thermal_clearances(const door::Door& door,
                                                 const heat::TemperatureSummary& summary);

} // namespace hangtrue::strength
