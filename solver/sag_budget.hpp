// What makes the latch corner drop: its drop as a sum over plays, parts and heat.
#pragma once

#include "meshing/door.hpp"
#include "solver/deflection.hpp"
#include "solver/door_assembly.hpp"
#include "solver/hinge_contact.hpp"

namespace hangtrue
{

/// Real movements of every body, m, in the order of Assembly::bodies.
using BodyMoves = std::vector<NodeField>;

/// Splits the linear measure `unit . movement of the door` of the solved state by the unit-load
/// theorem (virtual work; Timoshenko and Goodier, Theory of Elasticity, from memory). `unit` are
/// nodal forces, N per N, that are zero under the door's free swing. With v the answer to them on
/// the carried contacts (stress s_v, pushes q) and u the real movement (strain e):
///
///     unit . u = sum over parts of integral of s_v : e   +   sum over contacts of q x (gap + c p)
///
/// with drawn gaps, and the compliance c of what lies between the sides under the real push p; e is
/// elastic plus free strain. The shares add up to the measure as exactly as the contacts are
/// closed. Throws nothing beyond what the solves throw.
std::vector<SagShare> sag_budget(const Assembly& assembly, const ContactState& state,
                                 const ElasticityOf& of_door, const BodyMoves& moves,
                                 const NodeField& unit);

} // namespace hangtrue
