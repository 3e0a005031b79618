// What the contact solution means for knuckles, leaves and pins.
#pragma once

#include "meshing/door/door.hpp"
#include "meshing/mesh/mesh.hpp"
#include "solver/analysis/open_result.hpp"
#include "solver/contact/contact_pairs.hpp"
#include "solver/elasticity/elastic_body.hpp"

#include <vector>

namespace hangtrue
{

/// Force of pin and neighbours on every knuckle of every hinge.
std::vector<KnuckleForce> knuckle_forces(const Door& door, const Mesh& mesh,
                                         const std::vector<ContactPoint>& points,
                                         const std::vector<double>& push);

/// Force of a pin that is fast in a frame knuckle, from the stress of the knuckle at its bore.
void add_fast_pin(const Door& door, const Mesh& mesh, const ElasticityOf& elasticity_of,
                  const NodeField& frame_move, KnuckleForce& knuckle);

/// Force and moment that each leaf, or each lug, hands to its face, from the forces on its
/// knuckles.
std::vector<LeafForces> leaf_forces(const Door& door, const std::vector<KnuckleForce>& knuckles);

} // namespace hangtrue
