// SPDX-License-Identifier: GPL-3.0-or-later
// Results of one solved state of the open door, part by part.
#pragma once

#include "meshing/common/vec3.hpp"
#include "meshing/door/door.hpp"
#include "meshing/mesh/mesh.hpp"
#include "solver/contact/contact_response.hpp"
#include "solver/contact/contact_solver.hpp"
#include "solver/contact/skin_contact.hpp"
#include "solver/elasticity/elastic_body.hpp"
#include "solver/heat/thermal_state.hpp"
#include "solver/qoi/contribution.hpp"
#include "solver/qoi/corner_displacements.hpp"
#include "solver/qoi/drop_contributions.hpp"
#include "solver/qoi/straightedge_readings.hpp"
#include "solver/strength/plate_checks.hpp"
#include "solver/strength/skin_buckling.hpp"
#include "solver/strength/thermal_clearance.hpp"
#include "solver/system/door_system.hpp"
#include "solver/system/equilibrium_check.hpp"
#include "solver/system/error_by_region.hpp"

#include <vector>

namespace hangtrue::analysis
{

/// A state whose contacts are being solved; `thermal` is null where the door is at one temperature.
struct OpenState {
  const door::Door& door;
  const mesh::Mesh& mesh;
  const system::DoorSystem& system;
  contact::ContactSolver& solver;
  const heat::ThermalState* thermal;
};

/// Weight and centre of gravity of a mesh.
struct WeightReadings {
  double weight = 0.0; ///< N
  Vec3 centre;         ///< m
  double couple = 0.0; ///< N, horizontal force of the weight on the outermost hinges
};

/// The state of a door at one temperature: cold, or warm where it is not cold to the hand.
heat::ThermalStateId state_of(const door::Door& door);

/// From the nodal forces of the weight, N.
WeightReadings weight_readings(const door::Door& door, const mesh::Mesh& mesh,
                               const elasticity::NodeField& weight);

/// Displacements of all bodies, m per node, and the readings taken from them.
struct Displacements {
  elasticity::NodeField door; ///< its free swing taken out
  elasticity::NodeField frame;
  std::vector<elasticity::NodeField> pins;
  std::vector<qoi::CornerDisplacement> corners;
  double drop = 0.0;     ///< m, of the latch corner that drops most
  double lean = 0.0;     ///< m
  double set_back = 0.0; ///< m
};

/// Displacements of all bodies in a solved contact state, with corners, lean and drop.
Displacements displacements_of(const OpenState& in, const contact::ContactState& state);

/// Contributions to the drop of the corner that drops most and, with heat, to the bow.
struct Contributions {
  double elastic_drop = 0.0; ///< m
  double heat_drop = 0.0;    ///< m
  std::vector<qoi::Contribution> drop_contributions{};
  std::vector<qoi::ContributionSplit> splits{};
};

/// The drop by solutions for load and heat alone, without an adjoint: no contributions.
Contributions drop_parts(const OpenState& in, const contact::LoadCaseSplit& split,
                         const Displacements& moved);

/// By the unit-load theorem, with the estimated error of the drop; `known` is its cached estimate,
/// or null.
Contributions contributions_of(const OpenState& in, const contact::ContactState& state,
                               const Displacements& moved, system::CachedErrorEstimate* known);

/// What heat does to the panel itself.
struct ThermalReadings {
  qoi::BowReadings bow;
  strength::PlateUtilisations plates;
  std::vector<strength::SkinBuckling> buckling;
  contact::SkinSlip skin_slip;
  std::vector<strength::ThermalClearance> thermal_clearances;
};

/// From the displacements of the door, m per node, in a state with heat.
ThermalReadings thermal_readings(const OpenState& in,
                                 const elasticity::NodeField& door_displacement);

/// Equilibrium of the door under its contact forces, and of the frame by its own stress; `weight`
/// in N. Throws ComputeError like check_door_equilibrium.
system::EquilibriumCheck equilibrium_of(const OpenState& in, const contact::ContactState& state,
                                        const elasticity::NodeField& frame_displacement,
                                        double weight);

} // namespace hangtrue::analysis
