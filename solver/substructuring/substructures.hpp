// SPDX-License-Identifier: GPL-3.0-or-later
// Partition of a body at the necks of its hinges: the base (panel or jamb with its leaves) and the
// hinge substructures shaped by pin and bore, which share a few nodes only.
#pragma once

#include "meshing/mesh/mesh.hpp"

#include <array>
#include <vector>

namespace hangtrue::substructuring
{

/// Steel of one substructure with its own node numbers.
struct Substructure {
  std::vector<int> node;                    ///< of the body, per node of the substructure
  std::vector<int> cell;                    ///< of the body, per cell of the substructure
  std::vector<std::array<int, 27>> corners; ///< nodes of the substructure, per cell
  std::vector<int> interface;               ///< interface nodes (hinge substructures)
};

/// The base first, then the hinge substructures. A body without a base (a pin) is all base.
struct Substructures {
  std::vector<Substructure> substructures;
  std::vector<int>
      substructure_of;       ///< per node of the body, -1 without steel; interface nodes are base
  std::vector<int> local_of; ///< per node of the body, in that substructure
};

/// Partitions the body: hinge substructures are the connected groups of neck, ring, lug and pin.
Substructures partition_body(const mesh::BodyMesh& body);

/// Boundary nodes of a substructure.
std::vector<int> boundary_nodes(const Substructure& part, std::size_t nodes);

} // namespace hangtrue::substructuring
