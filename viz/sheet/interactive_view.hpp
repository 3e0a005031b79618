// The door in space inside the sheet, to be turned by hand, with its load states.
#pragma once

#include "meshing/common/vec3.hpp"
#include "meshing/mesh/mesh.hpp"

#include <string>
#include <vector>

namespace hangtrue
{

/// One load state: the movement, m, of every node of every body, and how much larger it is drawn.
struct TurningState {
  std::string name;
  std::vector<const std::vector<Vec3>*> moves; ///< one per body
  double factor = 1.0;
};

/// The surfaces of the bodies and their movements as a JSON text; places to a 60,000th of the
/// largest measure.
std::string turning_data(const std::vector<const BodyMesh*>& bodies,
                         const std::vector<TurningState>& states);

/// The library that draws in a browser (three.js as Debian's libjs-three has it), or nothing where
/// it is not installed.
std::string turning_library();

/// A piece of HTML with everything in it; it stays hidden where scripts are off. Empty when the
/// library is not there.
std::string turning_html(const std::string& data, const std::string& library);

} // namespace hangtrue
