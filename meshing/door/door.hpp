// SPDX-License-Identifier: GPL-3.0-or-later
// The door as plain values in SI units: what a shop decides before it cuts steel.
//
// Door frame: x from the hinge edge to the latch edge, y from the fire outwards, z along the hinge
// axis (up when the door is side-hung). The panel fills 0..width, 0..depth, 0..height.
#pragma once

#include <optional>
#include <string>
#include <utility>
#include <vector>

namespace hangtrue::door
{

/// The edge that carries the hinges; gravity is turned into the door frame from this.
enum class HingeEdge {
  side,  ///< hinge axis upright: gravity along -z at every swing angle
  top,   ///< hinge axis level, along the upper edge (a lid or flap that lifts)
  bottom ///< hinge axis level, along the lower edge (a flap that drops)
};

/// Steel at one temperature, as a row of the user's own table.
struct SteelRow {
  double temperature = 20.0;  ///< degC
  double modulus = 0.0;       ///< Pa
  double yield = 0.0;         ///< Pa
  double proof = 0.0;         ///< Pa, up to which it is elastic
  double elongation = 0.0;    ///< m/m, total from 20 degC
  double conductivity = 0.0;  ///< W/(m K)
  double specific_heat = 0.0; ///< J/(kg K)

  bool operator==(const SteelRow&) const = default;
};

/// Steel as the elastic model needs it at 20 degC; dependence on temperature is in
/// solver/material/steel_properties.
struct Steel {
  std::string grade = "A36";
  double density = 7850.0;         ///< kg/m^3
  double youngs_modulus = 200.0e9; ///< Pa, at 20 degC
  double poisson = 0.3;
  double yield = 250.0e6;        ///< Pa, at 20 degC
  double ultimate = 400.0e6;     ///< Pa, at 20 degC
  std::vector<SteelRow> table{}; ///< rising in temperature; empty: EN 1993-1-2

  bool operator==(const Steel&) const = default;
};

/// The flat double-wall panel without its rim and stiffeners; all in m.
struct Panel {
  double width = 0.0;  ///< hinge edge to latch edge
  double height = 0.0; ///< along the hinge axis
  double outer_skin = 0.0;
  double inner_skin = 0.0;

  bool operator==(const Panel&) const = default;
};

/// How far the inner skin is released from rim and stiffeners.
enum class SkinRelease {
  welded,   ///< to rim and stiffeners all over
  stitched, ///< to the outer wall of the rim by stitches, else loose
  floating, ///< one anchor weld at the middle of the lower edge, else only guided in thickness
  split     ///< welded, but cut from edge to edge along the hinge axis
};

/// What prevents a loose skin from lifting off the rim.
enum class LiftRestraint {
  clips, ///< so many to each side
  lip    ///< a strip or channel all along the edge
};

/// How the inner skin is attached; all in m.
struct InnerSkinAttachment {
  SkinRelease kind = SkinRelease::welded;
  double stitch = 0.05; ///< length of a stitch, or of the anchor weld of a floating skin
  double pitch = 0.15;  ///< from stitch to stitch
  LiftRestraint keep = LiftRestraint::clips;
  int clips = 3;         ///< to each side
  double lift = 0.0;     ///< play under clips or lip
  double slot = 3.0e-3;  ///< sliding that slots and edge gaps leave free, or width of the cut
  double split_at = 0.0; ///< the cut, from the hinge edge

  bool operator==(const InnerSkinAttachment&) const = default;
};

/// A board between the inner skin and the rim and stiffeners that breaks the thermal bridge,
/// bonded or bolted to what it lies on.
struct BreakStrip {
  double thickness = 0.0;        ///< m; 0: none
  double conductivity = 0.2;     ///< W/(m K)
  double density = 900.0;        ///< kg/m^3
  double youngs_modulus = 2.0e9; ///< Pa

  bool operator==(const BreakStrip&) const = default;
};

/// The mitred rim of square or rectangular tube between the skins, sharp corners; all in m.
struct Rim {
  double width = 0.0; ///< in the plane of the door
  double depth = 0.0; ///< from skin to skin: this sets the depth of the cavity
  double wall = 0.0;

  bool operator==(const Rim&) const = default;
};

/// Section of a stiffener.
enum class StiffenerShape {
  tube,    ///< rectangular tube of the rim's depth
  flat_bar ///< flat bar on edge from skin to skin
};

/// Which way a stiffener runs.
enum class StiffenerRun {
  along, ///< parallel to the hinge axis, at `at` from the hinge edge
  across ///< square to the hinge axis, at `at` from the lower edge (z = 0)
};

/// One stiffener between the skins, from rim to rim; all in m.
struct Stiffener {
  StiffenerShape shape = StiffenerShape::flat_bar;
  StiffenerRun run = StiffenerRun::along;
  double position = 0.0; ///< its middle, from x = 0 (along) or z = 0 (across)
  double width = 0.0;    ///< tube: size in the plane of the door; flat bar: its thickness
  double wall = 0.0;     ///< tube: wall; unused for a flat bar

  bool operator==(const Stiffener&) const = default;
};

/// What fills the cavity; it weighs but does not stiffen.
struct Insulation {
  std::string kind = "none";
  double density = 0.0;                                  ///< kg/m^3; 0 for an empty cavity
  std::vector<std::pair<double, double>> conductivity{}; ///< own table: degC and W/(m K), rising;
                                                         ///< empty: the table of the kind

  bool operator==(const Insulation&) const = default;
};

/// The side of a hinge that a knuckle belongs to.
enum class KnuckleOwner { door, frame };

/// One knuckle, listed from z = 0 upwards.
struct Knuckle {
  KnuckleOwner owner = KnuckleOwner::frame;
  double length = 0.0;        ///< m, along the pin
  std::vector<double> worn{}; ///< m, how much deeper bore and pin are, at equal distances from the
                              ///< lower end to the upper; empty when new
  double wearing = 0.0; ///< m^2/N, depth that it wears by while it is pressed, per line load in N/m

  bool operator==(const Knuckle&) const = default;
};

/// How knuckles are fixed to door and jamb.
enum class HingeKind {
  barrels, ///< tube barrels on the edge of a leaf that stands off the face
  lugs     ///< plates square to the pin, drilled and threaded on the rod
};

/// Where the pin of a hinge is fixed.
enum class PinFixity {
  floating, ///< free in every bore (head and cotter)
  fixed     ///< clamped in the frame half
};

/// Where a leaf is joined to its face.
enum class WeldExtent {
  beads,    ///< fillets round the edge of the land, one leg wide
  full_face ///< welded over the whole face
};

/// The plate that carries the knuckles of one half; all in m. With barrels the leaf is an angle:
/// a land of `width` flat on the face, and a web of `thickness` that stands up to the barrel. With
/// lugs `width` is the foot of each lug on the face and the lug's thickness is the knuckle length.
struct Leaf {
  double length = 0.0; ///< along the hinge axis (barrels)
  double width = 0.0;  ///< on the face of the door, and the same on the jamb
  double thickness = 0.0;
  double standoff = 0.0; ///< from the outer face of the door to the pin axis

  bool operator==(const Leaf&) const = default;
};

/// One hinge: both halves and the pin; all in m.
struct Hinge {
  double position = 0.0; ///< middle of the hinge along the axis, from z = 0
  HingeKind kind = HingeKind::barrels;
  Leaf leaf;
  std::vector<Knuckle> knuckles; ///< from z = 0 upwards, owners alternate
  double knuckle_gap = 0.0;      ///< nominal distance between neighbours (filled by spacers)
  double outside_diameter = 0.0; ///< of the barrel, or of the rounded end of a lug
  double pin_diameter = 0.0;
  double clearance = 0.0; ///< diametral: bore less pin
  double end_float = 0.0; ///< all the play along the pin
  PinFixity fixity = PinFixity::floating;
  bool carries_weight = true; ///< its thrust faces touch; others have half their end float below
  double weld_leg = 0.0;      ///< fillet leg between leaf and face
  WeldExtent weld = WeldExtent::beads;

  bool operator==(const Hinge&) const = default;
};

/// What stands behind the jamb plate.
enum class JambBacking {
  edge,   ///< supported only along its far edge, `free_width` from the opening
  flange, ///< the same, with a return flange along the opening edge
  solid   ///< supported over its whole back as well
};

/// The plate that carries the frame leaves, flush with the outer face; all in m.
struct Jamb {
  double thickness = 0.0;
  double free_width = 0.0; ///< from the opening edge to where it is supported
  JambBacking backing = JambBacking::edge;
  double flange_depth = 0.0;   ///< of the return flange, inwards
  std::optional<double> hot{}; ///< degC, of jamb and frame leaves in every thermal state; without
                               ///< it they are as hot as the outer skin over the rim at the hinges

  bool operator==(const Jamb&) const = default;
};

/// The gasket on its line round the inner skin, `Fire::gasket_inset` from the edges.
struct Gasket {
  std::string kind = "none";
  double height = 0.0;  ///< m, free
  double width = 0.0;   ///< m, of its bead on the skin
  double set_gap = 0.0; ///< m, between inner skin and frame face, nominal, door closed
  double corner = 0.0;  ///< m, radius of its corners
  std::vector<std::pair<double, double>> curve{}; ///< squeeze, m, and line load, N/m, both rising
  double sealing = 0.0;                           ///< N/m, least load that seals
  double crushing = 0.0;                          ///< m, squeeze beyond which it is crushed
  double permanent_set =
      0.0;              ///< fraction of the greatest squeeze that stays after heat (permanent set)
  double hottest = 0.0; ///< degC, that it withstands

  bool operator==(const Gasket&) const = default;
};

/// What a latch pulls by; the names are the trade's.
enum class LatchKind { wedge, cam, bevel, over_centre };

/// The edges without hinges.
enum class FreeEdge { latch, lower, upper };

/// One latch as it was set cold.
struct Latch {
  LatchKind kind = LatchKind::wedge;
  FreeEdge edge = FreeEdge::latch;
  double position = 0.0;  ///< m, along its edge, from the lower edge or from the hinge edge
  double inset = 0.0;     ///< m, of its pull from the edge
  double draw = 0.0;      ///< m, how far inwards of its nominal position it would pull a free door
  double stiffness = 0.0; ///< N/m, of rod, bolt and strike
  double lead = 0.0;      ///< rad, angle of wedge, bevel or cam to the path of the hand
  double friction = 0.15;
  double arm = 0.0;   ///< m, from the pivot of the handle to where it pulls
  double lever = 0.0; ///< m, from the pivot to the hand

  bool operator==(const Latch&) const = default;
};

/// The opening of the chamber: the gaps round the door and its face.
struct Opening {
  double latch = 0.0; ///< m, gap at the latch edge
  double lower = 0.0; ///< m
  double upper = 0.0; ///< m
  double warp = 0.0;  ///< m, how far the corners of the chamber face stand back from its middle

  bool operator==(const Opening&) const = default;
};

/// A load on the latch edge of the open door: someone leans on it or hangs from the handle.
struct HandleLoad {
  double force = 0.0;      ///< N, along gravity
  double position = 0.0;   ///< m, place along the latch edge from z = 0
  double breadth = 0.1016; ///< m, of the edge that takes the load, or of a hand that holds a lid

  bool operator==(const HandleLoad&) const = default;
};

/// Gas temperature behind the door at a time of the firing, linear between points.
struct FirePoint {
  double time = 0.0; ///< s
  double gas = 0.0;  ///< degC

  bool operator==(const FirePoint&) const = default;
};

/// A hot spot of the gas; its excess over the ambient temperature stays in proportion to that of
/// the schedule and decays as exp(-(r / reach)^2).
struct HotSpot {
  double gas = 0.0;   ///< degC, when the schedule is at its hottest; not above that: no spot
  double x = 0.0;     ///< m
  double z = 0.0;     ///< m
  double reach = 0.0; ///< m

  bool operator==(const HotSpot&) const = default;
};

/// Skin temperatures as measured, degC, in place of a gas temperature.
struct MeasuredSkins {
  bool given = false;
  double inner = 20.0;        ///< fire side of the inner skin, inside the gasket line
  double outer_middle = 20.0; ///< outer skin between the rim tubes
  double outer_rim = 20.0;    ///< outer skin over the rim tubes

  bool operator==(const MeasuredSkins&) const = default;
};

/// The fire and the room: boundary conditions of the heat problem.
struct Fire {
  std::vector<FirePoint> schedule; ///< rising in time; empty: no fire
  double film = 25.0;              ///< W/(m^2 K), convection on the fire side
  double emissivity_inside = 0.8;
  double emissivity_outside = 0.8;
  double ambient = 20.0;         ///< degC
  std::vector<double> instants;  ///< s, at which the door is evaluated besides the critical one
  double gasket_inset = 0.025;   ///< m, line that divides fire side from room side, from the edges
  double outside_film = 1.0;     ///< natural convection outside as a factor of that of still air
  std::optional<double> frame{}; ///< degC, of the frame face before the closed door while the
                                 ///< schedule is hottest; without it a heat balance gives it
  double frame_excess = 1.0;     ///< factor on how much hotter than the room the frame face is
  HotSpot hot_spot;
  MeasuredSkins measured;

  bool operator==(const Fire&) const = default;
};

/// A whole door, ready for meshing.
struct Door {
  std::string name;
  std::string shop;
  HingeEdge hanging = HingeEdge::side;
  double swing = 0.0; ///< rad, opening angle of the open states (0 is closed)
  Panel panel;
  InnerSkinAttachment inner_hold;
  BreakStrip strip;
  Rim rim;
  std::vector<Stiffener> stiffeners;
  Insulation insulation;
  double reveal = 0.0; ///< m, gap between the hinge edge and the jamb
  std::vector<Hinge> hinges;
  Jamb jamb;
  Gasket gasket;
  std::vector<Latch> latches;
  Opening opening;
  Steel steel;     ///< panel, leaves, knuckles, jamb
  Steel pin_steel; ///< rods
  HandleLoad handle;
  double temperature = 20.0; ///< degC, of the whole door where no fire is given
  Fire fire;

  bool operator==(const Door&) const = default;
};

/// Depth of the panel from the fire face to the outer face, m.
double depth(const Door& door);

/// A closed door can be computed: it has a gasket and something that holds it closed.
bool can_close(const Door& door);

/// Where rim and stiffeners begin, from the fire face: behind the inner skin and a break strip, m.
double rim_start(const Door& door);

/// Middle of the rim between the skins, from the fire face, m.
double rim_middle(const Door& door);

/// Place of the lower end of knuckle `k` along the axis, m from z = 0.
double knuckle_start(const Hinge& hinge, int k);

/// Lower and upper end of the hinge along the axis (leaf or knuckles, whichever is longer), m.
struct Span {
  double from = 0.0;
  double to = 0.0;
};
/// The span of a hinge along the axis.
Span hinge_span(const Hinge& hinge);

/// Outside radius, bore radius and pin radius, m.
double outside_radius(const Hinge& hinge);
/// Radius of the bore of the knuckles, m.
double bore_radius(const Hinge& hinge);
/// Radius of the pin, m.
double pin_radius(const Hinge& hinge);

/// Position of the pin axis in the section: half the reveal outside the hinge edge, a standoff
/// above the outer face, m (z is 0).
struct AxisPosition {
  double x = 0.0;
  double y = 0.0;
};
/// The pin axis of a hinge in the section of the door, m.
AxisPosition pin_axis(const Door& door, const Hinge& hinge);

/// One fault of a door: the key as in the door file (indices count from zero,
/// `hinge[1].leaf.width`), what was found, what is allowed, and a repair. Lengths in `found` and
/// `allowed` are in m; the reader of the file turns them into the user's units.
struct DoorFault {
  std::string key;
  double found = 0.0; ///< m (or plain, when `plain` is set)
  double allowed_from = 0.0;
  double allowed_to = 0.0;
  bool plain = false; ///< found and allowed are counts, not lengths
  std::string reason; ///< a sentence in the user's words
  std::string repair; ///< a sentence in the user's words
};

/// Rules between several values of a door, beyond those of each key; empty when all hold.
std::vector<DoorFault> faults(const Door& door);

} // namespace hangtrue::door
