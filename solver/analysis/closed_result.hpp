// SPDX-License-Identifier: GPL-3.0-or-later
// Results of the solved closed door: the whole gasket, one latch, the gaps round the door.
#pragma once

#include "meshing/common/vec3.hpp"
#include "meshing/door/door.hpp"
#include "meshing/mesh/mesh.hpp"
#include "solver/contact/axial_play.hpp"
#include "solver/contact/contact_pairs.hpp"
#include "solver/contact/gasket_model.hpp"
#include "solver/elasticity/elastic_body.hpp"
#include "solver/qoi/contribution.hpp"
#include "solver/strength/hinge_forces.hpp"
#include "solver/strength/pin_section_forces.hpp"
#include "solver/strength/thermal_clearance.hpp"
#include "solver/system/equilibrium_check.hpp"
#include "solver/system/state_id.hpp"

#include <array>
#include <memory>
#include <optional>
#include <vector>

namespace hangtrue::analysis
{

/// Results of the whole gasket line.
struct GasketSummary {
  double min_load = 0.0;    ///< N/m
  double mean_load = 0.0;   ///< N/m
  double max_squeeze = 0.0; ///< m
  Vec3 min_at;              ///< m
  Vec3 max_at;
  double length = 0.0;        ///< m, of the line
  double below_sealing = 0.0; ///< fraction of the line
  double crushed = 0.0;       ///< fraction of the line
  double open_length = 0.0;   ///< m without any contact
  double largest_gap = 0.0;   ///< m
  double leak_area = 0.0;     ///< m^2, gap integrated along the line
  double short_by = 0.0;      ///< m, greatest squeeze that is missing to seal everywhere
  double hottest = 20.0;      ///< degC, under the gasket
  double total = 0.0;         ///< N, of the gasket on the door
};

/// One latch under load.
struct LatchResult {
  int latch = 0;
  Vec3 place;         ///< m
  double force = 0.0; ///< N, inwards on the door
  double hand = 0.0;  ///< N, at the lever, to draw it home against that force
  double slack = 0.0; ///< m, between latch and strike when it carries nothing
  bool self_locking = false;
};

/// Gap left round the door in its opening, least along each edge, m, and the position on the door
/// of the least of the four, m.
struct RevealResult {
  double hinge = 0.0;
  double latch = 0.0;
  double lower = 0.0;
  double upper = 0.0;
  Vec3 min_at;
};

struct ClosedLoadOffset;

/// One closed state, solved.
struct ClosedDoorResult {
  system::StateId state{system::DoorPosition::closed};
  bool warm = false;
  double time = 0.0; ///< s
  std::vector<contact::GasketPoint> gasket;
  GasketSummary gasket_summary;
  std::vector<LatchResult> latches;
  double stop_force = 0.0; ///< N, steel on steel
  std::vector<Vec3> stops; ///< m, where steel touches the frame
  RevealResult reveal;
  double hinge_temperature = 20.0; ///< degC, of knuckles, leaves and pins, for their strength
  std::vector<strength::KnuckleForce> knuckles;
  std::vector<strength::PinForces> pins;
  std::vector<strength::LeafForces> leaves;
  std::vector<contact::ActiveContact>
      active_contacts; ///< active contact at the hinges, warm start for a similar state
  std::vector<strength::ThermalClearance> thermal_clearances;
  contact::AxialPlay axial;
  double weight = 0.0; ///< N, door with its hinge halves
  system::EquilibriumCheck balance;
  int rounds = 0; ///< of the gasket's law
  std::optional<qoi::ContributionSplit>
      split{}; ///< of the least squeeze at its position, on request
  std::shared_ptr<const ClosedLoadOffset> load_offset; ///< of a lid or flap, else null
  std::vector<Vec3> door_displacement;                 ///< m, at every node of the door
};

/// A closed lid under slightly other loads, as LoadOffsetResult; without balance and fields.
struct ClosedLoadOffset {
  std::array<ClosedDoorResult, 2> offset{};
  std::array<ClosedDoorResult, 2> turned{};
};

/// The closed door at one instant of the warm-up, with the stiffness of another state.
struct ClosedDoorSample {
  double time = 0.0;         ///< s
  double min_load = 0.0;     ///< N/m; below zero where the gasket is clear: gap times its slope
  double min_squeeze = 0.0;  ///< m; negative: the largest gap to the frame face
  std::vector<double> latch; ///< N, inwards on the door, for each latch
};

/// Sums along the line, its extremes, and the squeeze missing to seal; `line` is not empty.
GasketSummary gasket_summary(const door::Gasket& gasket,
                             const std::vector<contact::GasketPoint>& line);

/// One latch with contact force `contact_force`, N; `gap`, m, is what remains between it and its
/// strike.
LatchResult latch_result(const door::Latch& latch, const contact::ContactPair& pair,
                         double contact_force, double gap);

/// How far a door may slide along its pins from its position, m.
struct Slide {
  double to_lower = 0.0; ///< towards z = 0
  double to_upper = 0.0;
};

/// Along a level hinge axis a door may be anywhere between its thrust faces; an upright one rests.
Slide slide_along_pins(const door::Door& door, const contact::AxialPlay& play);

/// Gaps left round a door at those of the `nodes` that lie on its edges, with displacements
/// `displacements`, m per node of the body, and a possible slide.
RevealResult reveal_result(const door::Door& door, const mesh::BodyMesh& body,
                           const std::vector<int>& nodes,
                           const elasticity::NodeField& displacements, const Slide& slide = {});

} // namespace hangtrue::analysis
