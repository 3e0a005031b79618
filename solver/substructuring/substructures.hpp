// A body cut at the necks of its hinges: the carrier (panel or jamb with its leaves) and the pieces
// that pin and bore shape, which meet in a few nodes only.
#pragma once

#include "meshing/mesh/mesh.hpp"

#include <array>
#include <vector>

namespace hangtrue
{

/// Steel of one part with node numbers of its own.
struct BodyPart {
  std::vector<int> node;                    ///< of the body, per node of the part
  std::vector<int> cell;                    ///< of the body, per cell of the part
  std::vector<std::array<int, 27>> corners; ///< nodes of the part, per cell
  std::vector<int> joint;                   ///< nodes of the part that the carrier shares (pieces)
};

/// The carrier first, then the pieces. A body of pieces only (a pin) is all carrier.
struct BodyParts {
  std::vector<BodyPart> part;
  std::vector<int> part_of;  ///< per node of the body, -1 without steel; joints count as carrier
  std::vector<int> local_of; ///< per node of the body, in that part
};

/// Cuts the body: pieces are the connected groups of neck, ring, lug and pin.
BodyParts cut_body(const BodyMesh& body);

/// Nodes of a part that lie on its outside.
std::vector<int> outside_nodes(const BodyPart& part, std::size_t nodes);

} // namespace hangtrue
