// SPDX-License-Identifier: GPL-3.0-or-later
// The result of one load state of the open door: displacements, forces and equilibrium.
#pragma once

#include "meshing/common/vec3.hpp"
#include "solver/contact/axial_play.hpp"
#include "solver/contact/contact_pairs.hpp"
#include "solver/contact/skin_contact.hpp"
#include "solver/heat/thermal_state.hpp"
#include "solver/qoi/contribution.hpp"
#include "solver/qoi/corner_displacements.hpp"
#include "solver/qoi/straightedge_readings.hpp"
#include "solver/strength/hinge_forces.hpp"
#include "solver/strength/pin_section_forces.hpp"
#include "solver/strength/plate_checks.hpp"
#include "solver/strength/skin_buckling.hpp"
#include "solver/strength/thermal_clearance.hpp"
#include "solver/system/equilibrium_check.hpp"
#include "solver/system/state_id.hpp"

#include <array>
#include <memory>
#include <string>
#include <vector>

namespace hangtrue::analysis
{

struct LoadOffsetResult;

/// One load state, solved.
struct OpenDoorResult {
  system::StateId state;
  bool warm = false; ///< heated by a fire: `warmth` and `bow` are filled
  heat::TemperatureSummary temperatures;
  qoi::BowReadings bow;
  std::vector<strength::PlateUtilisation> plates;
  std::vector<double> plate_utilisation; ///< per cell of Mesh::door, as `use` of `plates`; below
                                         ///< zero where none is taken
  std::vector<strength::SkinBuckling> buckling;
  contact::SkinSlip skin_slip;
  std::vector<strength::ThermalClearance> thermal_clearances;
  contact::AxialPlay axial;
  /// The same state with ample end float and one hinge that carries, without its fields; only where
  /// the end float as drawn is not enough.
  std::shared_ptr<const OpenDoorResult> freed;
  double hinge_temperature = 20.0; ///< degC, of knuckles, leaves and pins, for their strength
  double weight = 0.0;             ///< N, door with its hinge halves
  Vec3 centre_of_gravity;          ///< m
  double couple = 0.0;             ///< N, horizontal force of the weight on the outermost hinges
  std::vector<qoi::CornerDisplacement> corners;
  double drop = 0.0;     ///< m, of the lower of the two latch corners, along gravity
  double lean = 0.0;     ///< m, how much farther from the hinges the upper latch corner is
                         ///< displaced than the lower one
  double set_back = 0.0; ///< m, how much farther outwards (y) the upper latch corner is displaced
  double elastic_drop = 0.0; ///< m, the part of `drop` by elastic strain under load
  double heat_drop = 0.0;    ///< m, the part by heat
  std::vector<qoi::Contribution>
      drop_contributions; ///< to `drop` by the unit-load theorem; they add up to it
  std::vector<qoi::ContributionSplit> splits; ///< of the drop and, with heat, of the bow
  std::vector<strength::KnuckleForce> knuckles;
  std::vector<contact::ActiveContact>
      active_contacts; ///< active contact at the hinges, warm start for a similar state
  std::vector<strength::PinForces> pins;
  std::vector<strength::LeafForces> leaves;
  system::EquilibriumCheck balance;
  std::shared_ptr<const LoadOffsetResult> load_offset; ///< of a lid or flap, else null
  int unknowns = 0;                                    ///< displacement unknowns of all bodies
  int contacts = 0;                                    ///< contact points that carry
  std::vector<Vec3> door_displacement;                 ///< m, at every node of Mesh::door
  std::vector<Vec3> frame_displacement;                ///< m, at every node of Mesh::frame
  std::vector<std::vector<Vec3>> pin_displacements;    ///< m, per floating pin, at every node
};

/// A lid under slightly other loads (solver/error/load_offset): such a door may tip from one edge
/// of its bores to the other, and turn about the vertical as far as their play allows.
/// Displacements and forces at the hinges, without fields.
struct LoadOffsetResult {
  double offset = 0.0;                    ///< m
  std::array<OpenDoorResult, 2> sides{};  ///< all loads offset towards z = 0 and away from it
  std::array<OpenDoorResult, 2> turned{}; ///< by a couple about the vertical, to either side
};

} // namespace hangtrue::analysis
