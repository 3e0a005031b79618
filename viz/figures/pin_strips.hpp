// SPDX-License-Identifier: GPL-3.0-or-later
// Moment and shear of a pin, drawn along it beside the cut through its hinge.
#pragma once

#include "meshing/common/vec3.hpp"
#include "meshing/mesh/mesh.hpp"
#include "solver/analysis/open_result.hpp"
#include "viz/figures/figures.hpp"
#include "viz/page/page.hpp"
#include "viz/scene/scene.hpp"

#include <string>
#include <vector>

namespace hangtrue::figures
{

/// One quantity along the pin, beside the cut and to its height.
struct Strip {
  std::string title;
  std::string greatest;
  double maximum = 0.0; ///< value that fills the strip; 0: too little to be drawn
  std::vector<double> z;
  std::vector<double> value;
};

/// A pin by its hinge, the direction that its bending is read along, the greatest force on a
/// knuckle of it, N, and its diameter, m.
struct PinStripInput {
  int hinge = 0;
  Vec3 along;
  double force = 0.0;
  double diameter = 0.0;
};

/// Moment and shear of the pin where they are known, and the deflection of its axis.
std::vector<Strip> pin_strips(const mesh::Mesh& mesh, const analysis::OpenDoorResult& d,
                              const PinStripInput& of, const UnitFormatter& words);

/// Puts a strip beside a window, from `x` on, `wide` mm.
void draw_strip(page::Page& page, const scene::Window& window, double x, double wide,
                const Strip& strip);

} // namespace hangtrue::figures
