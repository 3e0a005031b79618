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

#include <optional>
#include <vector>

namespace hangtrue
{

/// Results of the whole gasket line.
struct GasketSum {
  double least_load = 0.0;   ///< N/m
  double mean_load = 0.0;    ///< N/m
  double most_squeeze = 0.0; ///< m
  Vec3 least_at;             ///< m
  Vec3 most_at;
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
struct LatchAt {
  int latch = 0;
  Vec3 place;         ///< m
  double force = 0.0; ///< N, inwards on the door
  double hand = 0.0;  ///< N, at the lever, to draw it home against that force
  double slack = 0.0; ///< m, between latch and strike when it carries nothing
  bool holds_itself = false;
};

/// Gap left round the door in its opening, least along each edge, m, and the position on the door
/// of the least of the four, m.
struct RevealLeft {
  double hinge = 0.0;
  double latch = 0.0;
  double lower = 0.0;
  double upper = 0.0;
  Vec3 least_at;
};

/// One closed state, solved.
struct ClosedDoor {
  StateId state{Standing::shut};
  bool warm = false;
  double time = 0.0; ///< s
  std::vector<GasketAt> gasket;
  GasketSum sum;
  std::vector<LatchAt> latches;
  double stop_force = 0.0; ///< N, steel on steel
  std::vector<Vec3> stops; ///< m, where steel touches the frame
  RevealLeft reveal;
  double hinge_temperature = 20.0; ///< degC, of knuckles, leaves and pins, for their strength
  std::vector<KnuckleForce> knuckles;
  std::vector<PinForces> pins;
  std::vector<LeafForces> leaves;
  std::vector<Touch> touches; ///< active contact at the hinges, warm start for a similar state
  std::vector<HotFit> fits;
  AxialPlay axial;
  double weight = 0.0; ///< N, door with its hinge halves
  Balance balance;
  int rounds = 0;                           ///< of the gasket's law
  std::optional<ContributionSplit> split{}; ///< of the least squeeze at its position, on request
  std::vector<Vec3> door_move;              ///< m, at every node of the door
};

/// The closed door at one instant of the warm-up, with the stiffness of another state.
struct ShutInstant {
  double time = 0.0;          ///< s
  double least_load = 0.0;    ///< N/m; below zero where the gasket is clear: gap times its slope
  double least_squeeze = 0.0; ///< m; negative: the largest gap to the frame face
  std::vector<double> latch;  ///< N, inwards on the door, for each latch
};

/// Sums along the line, its extremes, and the squeeze missing to seal; `line` is not empty.
GasketSum gasket_sum(const Gasket& gasket, const std::vector<GasketAt>& line);

/// One latch with contact force `push`, N; `gap`, m, is what remains between it and its strike.
LatchAt latch_result(const Latch& latch, const ContactPoint& point, double push, double gap);

/// How far a door may slide along its pins from its position, m.
struct Slide {
  double to_lower = 0.0; ///< towards z = 0
  double to_upper = 0.0;
};

/// Along a level hinge axis a door may be anywhere between its thrust faces; an upright one rests.
Slide slide_along_pins(const Door& door, const AxialPlay& play);

/// Gaps left round a door at those of the `nodes` that lie on its edges, with displacements
/// `moves`, m per node of the body, and a possible slide.
RevealLeft reveal_left(const Door& door, const BodyMesh& body, const std::vector<int>& nodes,
                       const NodeField& moves, const Slide& slide = {});

} // namespace hangtrue
