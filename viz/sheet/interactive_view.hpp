// SPDX-License-Identifier: GPL-3.0-or-later
// The door in 3D inside the sheet, to be rotated by the reader, with its load states.
#pragma once

#include "meshing/common/vec3.hpp"
#include "meshing/mesh/mesh.hpp"

#include <string>
#include <vector>

namespace hangtrue::sheet
{

/// One load state: the displacement, m, of every node of every body, and its magnification.
struct InteractiveState {
  std::string name;
  std::vector<const std::vector<Vec3>*> moves; ///< one per body
  double factor = 1.0;
};

/// The surfaces of the bodies and their displacements as a JSON text; coordinates to a 60,000th of
/// the largest dimension.
std::string interactive_data(const std::vector<const mesh::BodyMesh*>& bodies,
                             const std::vector<InteractiveState>& states);

/// The library that draws in a browser (three.js as Debian's libjs-three has it), or nothing where
/// it is not installed.
std::string interactive_library();

/// Self-contained HTML; it stays hidden where scripts are off. Empty when the library is not
/// installed.
std::string interactive_html(const std::string& data, const std::string& library);

} // namespace hangtrue::sheet
