// SPDX-License-Identifier: GPL-3.0-or-later
// The open door seen from its outer face, with its drop magnified, as an SVG line drawing.
#pragma once

#include "meshing/door/door.hpp"
#include "solver/analysis/open_result.hpp"

#include <functional>
#include <string>

namespace hangtrue::figures
{

/// Format of lengths and forces on a drawing: m and N in, text in the user's units out.
struct ElevationFormatter {
  std::function<std::string(double)> length; ///< of displacements, to the last figure
  std::function<std::string(double)> size;   ///< of the door itself, as on a tape
  std::function<std::string(double)> force;
};

/// Scale factor of the displacement: the largest of 1, 2, 5, 10, 20, 50 ... that keeps the greatest
/// displacement on paper below a twentieth of the door.
double movement_scale(const door::Door& door, const analysis::OpenDoorResult& open_result);

/// The SVG text.
std::string elevation_svg(const door::Door& door, const analysis::OpenDoorResult& open_result,
                          const ElevationFormatter& words);

} // namespace hangtrue::figures
