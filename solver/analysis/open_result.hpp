// What one load state of the door comes out as: movements, forces and how well they balance.
#pragma once

#include "meshing/common/vec3.hpp"
#include "meshing/door/door.hpp"
#include "meshing/mesh/mesh.hpp"
#include "solver/contact/axial_play.hpp"
#include "solver/contact/contact_pairs.hpp"
#include "solver/qoi/contribution.hpp"

#include <array>
#include <memory>
#include <optional>
#include <string>
#include <vector>

namespace hangtrue
{

/// Movement of one corner of the outer skin from its drawn place, m, in the door frame.
struct CornerMove {
  std::string corner; ///< "lower latch", "upper latch", "lower hinge", "upper hinge"
  Vec3 move;
};

/// Force of the pin at one node plane of a bore.
struct BorePlane {
  double z = 0.0;      ///< m
  double length = 0.0; ///< m of the knuckle that it stands for
  Vec3 force;          ///< N, on the knuckle
};

/// Force of pin and neighbours on one knuckle.
///
/// Where along it the pin bears is known to a share of a cell only, and at an edge the pressure has
/// no limit as cells shrink. So strength takes the line load that is linear along the knuckle and
/// has the same force and the same moment, q = F / l +- 6 (M x e_z) / l^2 at its ends (eccentric
/// bearing of a rigid body, textbook statics): a force at one edge comes out as its mean over a
/// quarter of the knuckle, a couple of edge forces as over a sixth.
struct KnuckleForce {
  int hinge = 0;
  int knuckle = 0;
  Owner owner = Owner::frame;
  Vec3 middle;                     ///< m, middle of the knuckle on the axis
  Vec3 pin_force;                  ///< N, from the pin, across the axis
  double thrust = 0.0;             ///< N, from the thrust faces, along z
  Vec3 moment;                     ///< N m, of pin and thrust about `middle`
  double bearing = 0.0;            ///< Pa, worst line load / pin diameter
  Vec3 pin_moment{};               ///< N m, of the pin alone about `middle`
  std::array<Vec3, 2> line_load{}; ///< N/m, at the lower and the upper end
  double worst_line_load = 0.0;    ///< N/m, the greater of both
  double greatest_force = 0.0;     ///< N, of the pin: whole, or of the two that stand for it at its
                                   ///< ends, F / 2 +- (M x e_z) / l
  std::vector<BorePlane> planes{}; ///< as the contact has it; empty where the pin is fast
};

/// Section forces along one pin, from equilibrium.
struct PinForces {
  int hinge = 0;
  std::vector<double> z;         ///< m
  std::vector<double> shear;     ///< N, resultant
  std::vector<double> bending;   ///< N m, resultant
  double greatest_shear = 0.0;   ///< N
  double greatest_bending = 0.0; ///< N m
  double tilt = 0.0;             ///< rad, of the pin against its drawn axis
};

/// What a leaf, or one lug, hands through its weld to the face, about the middle of its foot; for
/// the frame in the frame's own directions, as if the door were shut.
struct LeafForces {
  int hinge = 0;
  int knuckle = -1; ///< the lug, or -1 for the leaf of a half
  Owner owner = Owner::door;
  Vec3 force;                ///< N, of the knuckles on the face
  Vec3 moment;               ///< N m, about `foot`
  Vec3 foot;                 ///< m, middle of the welded foot
  double root_bending = 0.0; ///< N m, about z at the root of the web, or at the foot of the lug
};

/// How the books balance, each relative to the weight (and the weight times the door's width).
struct Balance {
  double force_error = 0.0;    ///< door: contact forces against weight and handle load
  double moment_error = 0.0;   ///< door: moments about the lower end of the hinge axis
  double reaction_error = 0.0; ///< frame: reactions at the backing against all weights
  double least_gap = 0.0;      ///< m, deepest penetration left over (negative) or 0
  double least_force = 0.0;    ///< N, largest pull left over (negative) or 0
};

/// A door that heat has moved, as a straightedge on the skins would read it, m: how far the middle
/// stands outwards (+y) of the line between the ends, and how much the door has grown.
struct BowReadings {
  double outer_across = 0.0; ///< hinge edge to latch edge, at mid height
  double outer_along = 0.0;  ///< along the axis, at mid width
  double outer_diagonal = 0.0;
  double outer_corners = 0.0; ///< middle against the mean of the four corners
  double inner_across = 0.0;
  double inner_along = 0.0;
  double inner_diagonal = 0.0;
  double inner_corners = 0.0;
  double width_growth = 0.0;  ///< of the outer skin at mid height
  double height_growth = 0.0; ///< of the outer skin at mid width
};

/// Temperatures of a warm state, degC, and the hand check of its bow.
struct Warmth {
  double time = 0.0; ///< s from the start of the firing
  double gas = 0.0;
  double inner_skin = 0.0; ///< mean of the whole skin
  double outer_skin = 0.0;
  double outside_middle = 0.0;  ///< middle of the outer skin
  double outside_hottest = 0.0; ///< anywhere on the outer skin
  double hottest = 0.0;         ///< of all steel
  double knuckles = 0.0;        ///< mean of the door's knuckles
  double frame_face = 0.0;      ///< of the frame face before the shut door's edges
  double jamb = 0.0;       ///< of jamb and frame leaves, given or as the outer skin at the hinges
  double pins = 0.0;       ///< mean of the door's knuckles and the jamb
  double rim = 0.0;        ///< mean of the rim tubes
  double hinge_edge = 0.0; ///< mean of the panel's steel over the rim's width at the hinges
  double outside_by_film = 0.0;  ///< K, on `outside_hottest`, per share that the film outside lacks
  double outside_by_frame = 0.0; ///< K, on it, per share of excess that the frame face has more
  double hand_bow = 0.0;         ///< m, middle against corners
  double energy_error = 0.0;     ///< heat in less out and stored, relative to the throughput
};

/// Worst use of a plate by the stress in it, against the stress up to which it stays elastic.
struct PlateUse {
  std::string plate;        ///< "inner skin", "outer skin", "rim"
  Vec3 place;               ///< m
  double stress = 0.0;      ///< Pa, von Mises, linear through the plate, mean over a patch
  double proof = 0.0;       ///< Pa, k_p f_y at the temperature there
  double temperature = 0.0; ///< degC
  double use = 0.0;         ///< stress / proof
};

/// How one field of a hot skin would buckle with its edges held in one way.
struct FieldBuckling {
  double use = 0.0;     ///< 1 / the factor by which its stress may grow; 0: it never buckles
  Vec3 crest;           ///< m, where the mode stands highest
  int waves_across = 0; ///< half waves through the crest, along x
  int waves_along = 0;  ///< along z
  double stress = 0.0;  ///< Pa, membrane compression where the mode moves (mean by w^2, principal)
  double width = 0.0;   ///< m, of the field, along x
  double height = 0.0;  ///< m, along z
};

/// The field of a skin that buckles first, between both bounds on how its edges are held.
struct SkinBuckling {
  std::string skin;       ///< "inner skin", "outer skin"
  std::string not_judged; ///< why the theory does not hold for it; empty where it does
  FieldBuckling supported;
  FieldBuckling clamped;
};

/// What a skin that was let go does against what lies behind it, m.
struct SkinPlay {
  double slide = 0.0;   ///< most, in the plane of the door
  double lift = 0.0;    ///< most, off the rim towards the fire
  double closing = 0.0; ///< most, of the cut of a split skin
};

/// What heat leaves of the play in the bores of one hinge, m.
struct HotFit {
  int hinge = 0;
  double bore = 0.0; ///< diametral, of the tighter of door and frame knuckles
};

/// What a share of the drop comes from.
enum class SagCause { play, bending, heat };

/// One share of the drop: "play in hinge 1", "jamb", "heat of the panel".
struct SagShare {
  std::string part;
  SagCause cause = SagCause::bending;
  double drop = 0.0; ///< m, negative where it lifts
};

/// What a lid or flap does with all its loads a hair further along its hinges than drawn.
struct Tip {
  double drop = 0.0; ///< m, as Deflection::drop
  double lean = 0.0; ///< m, as Deflection::lean
};

/// The same to either side (solver/error/load_offset_check).
struct Poise {
  double shift = 0.0;         ///< m
  std::array<Tip, 2> sides{}; ///< towards z = 0 and away from it
};

/// One load state, solved.
struct Deflection {
  std::string state; ///< "open cold"
  bool warm = false; ///< a fire stands behind the door: `warmth` and `bow` are filled
  Warmth warmth;
  BowReadings bow;
  std::vector<PlateUse> plates;
  std::vector<double> plate_use; ///< per cell of Mesh::door, as `use` of `plates`; below zero where
                                 ///< none is taken
  std::vector<SkinBuckling> buckling;
  SkinPlay skin_play;
  std::vector<HotFit> fits;
  AxialPlay axial;
  /// The same state with ample end float and one hinge that carries, its fields left out; where the
  /// end float as drawn is not enough.
  std::shared_ptr<const Deflection> freed;
  double hinge_temperature = 20.0; ///< degC, of knuckles, leaves and pins, for their strength
  double weight = 0.0;             ///< N, door with its hinge halves
  Vec3 centre_of_gravity;          ///< m
  double couple = 0.0;             ///< N, horizontal force of the weight on the outermost hinges
  std::vector<CornerMove> corners;
  double drop = 0.0;     ///< m, of the lower of the two latch corners, along gravity
  double lean = 0.0;     ///< m, how much farther from the hinges the upper latch corner has moved
                         ///< than the lower one
  double set_back = 0.0; ///< m, how much farther outwards (y) the upper latch corner stands
  double elastic_drop = 0.0;       ///< m, the part of `drop` that is steel bending under load
  double heat_drop = 0.0;          ///< m, the part that is heat
  std::vector<SagShare> budget;    ///< shares of `drop` by the unit-load theorem; they add up to it
  std::vector<AnswerSplit> splits; ///< of the drop and, when warm, of the bow
  std::vector<KnuckleForce> knuckles;
  std::vector<Touch> touches; ///< where the hinges carry, for the next like state to begin at
  std::vector<PinForces> pins;
  std::vector<LeafForces> leaves;
  Balance balance;
  std::optional<Poise> poise{};             ///< of a lid or flap
  double drop_error = 0.0;                  ///< m, estimated error of `drop` from the mesh
  int unknowns = 0;                         ///< displacement unknowns of all bodies
  int contacts = 0;                         ///< contact points that carry
  std::vector<Vec3> door_move;              ///< m, at every node of Mesh::door
  std::vector<Vec3> frame_move;             ///< m, at every node of Mesh::frame
  std::vector<std::vector<Vec3>> pin_moves; ///< m, per floating pin, at every node
};

} // namespace hangtrue
