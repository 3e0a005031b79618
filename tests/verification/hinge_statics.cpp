// SPDX-License-Identifier: GPL-3.0-or-later
// Forces that hinges transfer, against statics on the nominal geometry: knuckles, leaves, pins,
// loads.
//
// Source: equilibrium of each part alone (Newton), with nominal lever arms. Hinge couple W x / H as
// in every handbook of doors (plane geometry).
#define BOOST_TEST_MODULE hinge_statics
#include <boost/test/unit_test.hpp>

#include "meshing/door/mesh_density.hpp"
#include "meshing/sweep/door_mesher.hpp"
#include "solver/analysis/open_analysis.hpp"
#include "solver/contact/contact_pairs.hpp"
#include "solver/elasticity/nodal_loads.hpp"
#include "solver/heat/door_heat_problem.hpp"
#include "solver/strength/hinge_forces.hpp"
#include "solver/strength/pin_section_forces.hpp"
#include "solver/strength/strength_formulas.hpp"
#include "tests/support/book.hpp"
#include "tests/support/test_doors.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>
#include <string>

using namespace hangtrue;
using namespace hangtrue::test;

namespace
{

const Source statics{"Statics of hinges",
                     "Equilibrium of every part alone (Newton), arms from the drawing."};
constexpr const char* exact = "rounding in the contact solution";

door::MeshDensity coarse(const door::Door& door)
{
  door::MeshDensity fine = door::mesh_density(door, 1);
  fine.panel_cell = door.panel.width / 4.0;
  fine.around_pin = 16;
  return fine;
}

struct SolvedDoor {
  door::Door door;
  mesh::Mesh mesh;
  analysis::OpenDoorResult state;
};

SolvedDoor solve_door(const door::Door& door)
{
  SolvedDoor result{door, sweep::make_mesh(door, coarse(door)), {}};
  result.state = analysis::solve_open_door({.door = result.door, .mesh = result.mesh});
  return result;
}

Vec3 force_of(const strength::KnuckleForce& k)
{
  return k.pin_force + Vec3{0.0, 0.0, k.thrust};
}

} // namespace

// The knuckles of the door carry its weight and its moment; those of the frame and the pins carry
// the same with the opposite sign.
BOOST_AUTO_TEST_CASE(knuckles_carry_the_door)
{
  const SolvedDoor solved = solve_door(barrel_door(door::PinFixity::fixed));
  const double weight = solved.state.weight;
  Vec3 force{0.0, 0.0, -weight};
  Vec3 moment = cross(solved.state.centre_of_gravity, force);
  double lowest = weight;
  double bearing_error = 0.0;
  for (const strength::KnuckleForce& k : solved.state.knuckles) {
    const door::Hinge& hinge = solved.door.hinges[k.hinge];
    // Eccentric bearing: F / (d l) (1 + 6 e / l), e how far from the middle F acts (all of it in
    // one plane here).
    const double length = hinge.knuckles[k.knuckle].length;
    const double off = norm(cross(k.pin_moment, {0.0, 0.0, 1.0})) / norm(k.pin_force);
    const double bearing =
        norm(k.pin_force) / (hinge.pin_diameter * length) * (1.0 + 6.0 * off / length);
    bearing_error = std::max(bearing_error, std::abs(k.bearing / bearing - 1.0));
    if (k.owner == door::KnuckleOwner::frame)
      continue;
    force += force_of(k);
    moment += cross(k.middle, force_of(k)) + k.moment;
    lowest = std::min(lowest, k.thrust);
  }
  check_row(statics, {"knuckles-force", "force left over on the door, of its weight", ""},
            at_most(1e-8, exact), norm(force) / weight);
  check_row(statics, {"knuckles-moment", "moment left over, of weight times width", ""},
            at_most(1e-8, exact), norm(moment) / (weight * solved.door.panel.width));
  check_row(statics, {"knuckles-lift", "least thrust on a knuckle of the door, of its weight", ""},
            at_least(0.0, "the frame holds the door up"), lowest / weight);
  check_row(
      statics,
      {"knuckles-bearing", "bearing at the worse end: F / (d l) (1 + 6 e / l), worst error", ""},
      at_most(0.01, "force and moment in one plane within a few degrees"), bearing_error);
  // W x / H between the pins as handbooks have it; the door pulls in the plane of axis and weight.
  const double x = solved.state.centre_of_gravity.x - solved.mesh.hinges[0].axis.x;
  const double y = solved.state.centre_of_gravity.y - solved.mesh.hinges[0].axis.y;
  const double spacing = solved.door.hinges[1].position - solved.door.hinges[0].position;
  check_row(statics, {"couple", "couple of the weight on the outer hinges: W x / H", "N"},
            near(weight * x / spacing, 1e-9, "arithmetic"), solved.state.couple);
  const auto upper = std::find_if(solved.state.knuckles.begin(), solved.state.knuckles.end(),
                                  [](const strength::KnuckleForce& k) {
                                    return k.hinge == 1 && k.owner == door::KnuckleOwner::door;
                                  });
  const double rim = door::outside_radius(solved.door.hinges[0]);
  const double length = solved.door.hinges[0].knuckles[1].length;
  check_row(statics, {"upper-hinge", "pull of the upper hinge: W (r - R) / (H + knuckle)", "N"},
            near(weight * (std::hypot(x, y) - rim) / (spacing + length), 0.03,
                 "the weight stands on the rim of the thrust face, and knuckles touch at their far "
                 "ends; contact at nodes, and steel bends"),
            norm(upper->pin_force));
}

// One hinge, its only knuckle on the door between two of the frame: it carries the whole moment of
// the weight as a couple, loaded at both ends in opposite directions. The vector sum over the
// knuckle is next to nothing, and so were its bearing and its contact pressure.
BOOST_AUTO_TEST_CASE(a_knuckle_that_carries_a_couple)
{
  door::Door door = barrel_door(door::PinFixity::fixed);
  door.hinges.pop_back();
  door.hinges.front().position = 0.5 * door.panel.height;
  const SolvedDoor solved = solve_door(door);
  const strength::KnuckleForce& k = solved.state.knuckles[1];
  const door::Hinge& hinge = solved.door.hinges.front();
  const double length = hinge.knuckles[1].length;
  const double x = solved.state.centre_of_gravity.x - solved.mesh.hinges[0].axis.x;
  const double y = solved.state.centre_of_gravity.y - solved.mesh.hinges[0].axis.y;
  const double couple =
      solved.state.weight * (std::hypot(x, y) - door::outside_radius(hinge)) / length;
  constexpr const char* why = "the weight stands on the rim of the thrust face, between its nodes";
  check_row(statics,
            {"couple-force", "one hinge: force at each end of its knuckle, W (r - R) / l", "N"},
            near(couple, 0.01, why), k.greatest_force);
  check_row(statics, {"couple-bearing", "one hinge: bearing, 6 M / (l^2 d)", "MPa"},
            near(1e-6 * 6.0 * couple / (length * hinge.pin_diameter), 0.01, why), 1e-6 * k.bearing);
  BOOST_TEST(dot(k.line_load[0], k.line_load[1]) < 0.0);
  BOOST_TEST(norm(k.pin_force) < 1e-3 * couple);
  Vec3 planes;
  for (const auto& plane : k.planes)
    planes += plane.force;
  BOOST_TEST(norm(planes - k.pin_force) < 1e-9 * couple);
}

// A pin that is clamped in the frame's knuckles projects from the lowest one like a cantilever,
// down into a knuckle of the door. At the mouth the whole force of this knuckle bends it, whatever
// the mesh; it transfers that by shear along its own knuckle, and just inside the mouth it has
// less. From forces on the upper side of each section alone it was reported as 43.6 instead of 81.8
// N m.
BOOST_AUTO_TEST_CASE(a_fixed_pin_is_bent_by_all_beyond_its_knuckle)
{
  door::Door door = barrel_door(door::PinFixity::fixed);
  door.hinges.pop_back();
  door::Hinge& hinge = door.hinges.front();
  hinge.position = 0.5 * door.panel.height;
  hinge.leaf.length = 6.0 * inch;
  hinge.pin_diameter = 0.5 * inch;
  hinge.knuckles.insert(hinge.knuckles.begin(), {door::KnuckleOwner::door, 1.5 * inch});
  const SolvedDoor solved = solve_door(door);
  const strength::KnuckleForce& lowest = solved.state.knuckles.front();
  BOOST_REQUIRE((lowest.knuckle == 0 && lowest.owner == door::KnuckleOwner::door));
  BOOST_REQUIRE(lowest.thrust == 0.0); // all of its moment is the pin's
  const double mouth = door::knuckle_start(solved.door.hinges.front(), 1);
  const Vec3 bent =
      lowest.moment + cross(Vec3{0.0, 0.0, lowest.middle.z - mouth}, lowest.pin_force);
  const strength::PinForces& pin = solved.state.pins.front();
  check_row(statics, {"fast-pin", "bending of a fast pin at the mouth of its knuckle", "N m"},
            near(std::hypot(bent.x, bent.y), 1e-6, exact), pin.greatest_bending);
}

// Leaf of the door and of the frame, closed: forces of its knuckles, bending about the root of the
// web.
BOOST_AUTO_TEST_CASE(leaves_transfer_the_forces_of_their_knuckles)
{
  door::Door door = barrel_door();
  door.swing = 0.0;
  const SolvedDoor solved = solve_door(door);
  double force_error = 0.0;
  double root_error = 0.0;
  double largest = 0.0;
  for (const strength::LeafForces& leaf : solved.state.leaves) {
    const door::Hinge& hinge = door.hinges[leaf.hinge];
    // The web is over the hinge edge of the door, or the opening edge of the jamb.
    const double t = hinge.leaf.thickness;
    const Vec3 root{leaf.owner == door::KnuckleOwner::door ? 0.5 * t : -door.reveal - 0.5 * t,
                    door::depth(door) + t, 0.0};
    Vec3 force;
    double bending = 0.0;
    for (const strength::KnuckleForce& k : solved.state.knuckles) {
      if (k.hinge != leaf.hinge || k.owner != leaf.owner)
        continue;
      force += force_of(k);
      bending += k.moment.z + cross(k.middle - root, force_of(k)).z;
    }
    force_error = std::max(force_error, norm(force - leaf.force));
    root_error = std::max(root_error, std::abs(bending - leaf.root_bending));
    largest = std::max(largest, std::abs(bending));
  }
  check_row(statics, {"leaf-force", "leaves, shut: force, worst error of the weight", ""},
            at_most(1e-10, "arithmetic"), force_error / solved.state.weight);
  check_row(statics,
            {"leaf-root",
             "leaves, shut: bending about the root of the web, worst error of the largest", ""},
            at_most(1e-10, "arithmetic"), root_error / largest);
}

// A floating rod in the middle of the gap between two lugs: what is below balances the lower lug.
BOOST_AUTO_TEST_CASE(rod_between_lugs)
{
  const SolvedDoor solved = solve_door(lug_door());
  for (std::size_t h = 0; h < solved.door.hinges.size(); ++h) {
    const auto knuckle = std::find_if(
        solved.state.knuckles.begin(), solved.state.knuckles.end(),
        [h](const auto& k) { return k.hinge == static_cast<int>(h) && k.knuckle == 0; });
    const auto pin = std::find_if(solved.state.pins.begin(), solved.state.pins.end(),
                                  [h](const auto& p) { return p.hinge == static_cast<int>(h); });
    BOOST_REQUIRE((knuckle != solved.state.knuckles.end() && pin != solved.state.pins.end()));
    const door::Hinge& hinge = solved.door.hinges[h];
    const double gap =
        door::knuckle_start(hinge, 0) + hinge.knuckles[0].length + 0.5 * hinge.knuckle_gap;
    std::size_t index = 0;
    for (std::size_t i = 0; i < pin->z.size(); ++i)
      if (std::abs(pin->z[i] - gap) < std::abs(pin->z[index] - gap))
        index = i;
    const Vec3 arm{0.0, 0.0, knuckle->middle.z - pin->z[index]};
    // The knuckle's moment about its middle, without what its thrust faces do off the axis.
    const Vec3 bending = cross(arm, knuckle->pin_force);
    const std::string id = std::to_string(h + 1);
    check_row(statics, {"rod-shear-" + id, "rod in the gap of lugs, hinge " + id + ": shear", "N"},
              near(norm(knuckle->pin_force), 1e-3, "the rod's own weight"), pin->shear[index]);
    // The contact force is somewhere on the lug, so half its length times the force is the band.
    check_row(
        statics, {"rod-bending-" + id, "rod in the gap of lugs, hinge " + id + ": bending", "N m"},
        between(0.98 * norm(bending) - 0.5 * hinge.knuckles[0].length * norm(knuckle->pin_force),
                1.02 * norm(bending) + 0.5 * hinge.knuckles[0].length * norm(knuckle->pin_force),
                "the lug pushes anywhere on its length; 2 % for contact at nodes"),
        pin->bending[index]);
  }
}

// A twisted box of lines, 3 x 4: corner at 2.5 from the middle, J = 57.167 (Shigley).
BOOST_AUTO_TEST_CASE(weld_in_twist)
{
  const strength::WeldLines box = strength::box_weld(3.0, 4.0);
  const Source shigley{"Shigley welds",
                       "Shigley, Mechanical Engineering Design, bending and torsional "
                       "properties of fillet welds as lines (secondary text; "
                       "recomputed by line integration)."};
  check_row(shigley, {"weld-twist", "box 3 x 4 under unit twist, throat 1: M r / J", ""},
            near(2.5 / 57.1667, 1e-5, "digits printed"),
            strength::weld_stress(box, std::numbers::sqrt2, {}, {0.0, 1.0, 0.0}));
  // Direct shear along x adds to the twist's x part at the worst corner: 2 / J + 1 / 14, with 1.5 /
  // J.
  check_row(shigley, {"weld-twist-shear", "the same with unit shear: vector sum", ""},
            near(std::hypot(2.0 / 57.1667 + 1.0 / 14.0, 1.5 / 57.1667), 1e-5, "digits printed"),
            strength::weld_stress(box, std::numbers::sqrt2, {1.0, 0.0, 0.0}, {0.0, 1.0, 0.0}));
}

// Down, seen from a flap opened by 30 degrees: its x axis runs from the hinges to the latch edge
// and has turned outwards with it.
BOOST_AUTO_TEST_CASE(down_from_a_flap)
{
  door::Door door = barrel_door();
  door.swing = std::numbers::pi / 6.0;
  const Vec3 down{0.0, -1.0, 0.0};     // of the room: x outwards, y up, z along the hinges
  const auto seen = [&](double side) { // -1 when the latch edge is at the bottom
    const double c = std::cos(door.swing);
    const double s = std::sin(door.swing);
    const Vec3 along{s, side * c, 0.0};
    const Vec3 outwards{c, -side * s, 0.0};
    return Vec3{dot(down, along), dot(down, outwards), 0.0};
  };
  for (const auto& [hanging, name, closed_x] :
       {std::tuple{door::HingeEdge::top, "top", -1.0}, {door::HingeEdge::bottom, "bottom", 1.0}}) {
    door.hanging = hanging;
    check_row(statics,
              {std::string("down-") + name,
               std::string(name) + "-hung flap at 30 degrees: error of down", ""},
              at_most(1e-12, "arithmetic"),
              norm(elasticity::gravity_direction(door) - seen(closed_x)));
  }
}

// All the play along the pin lies between the faces of a door knuckle and its neighbours.
BOOST_AUTO_TEST_CASE(end_float_is_shared_out)
{
  const door::Door door = barrel_door();
  const mesh::Mesh mesh = sweep::make_mesh(door, coarse(door));
  for (const int h : {0, 1}) {
    double below = 1.0;
    double above = 1.0;
    for (const contact::ContactPair& p : contact::contact_pairs(door, mesh))
      if (p.kind == contact::ContactKind::thrust && p.hinge == h)
        (p.outer.body == contact::door_body ? below : above) = p.gap;
    const std::string id = std::to_string(h + 1);
    check_row(statics,
              {"end-float-" + id, "gaps below and above the door's knuckle, hinge " + id, "in"},
              within(1.0 / 32.0, 1e-12, "arithmetic"), (below + above) / inch);
    check_row(statics, {"end-float-below-" + id, "gap below it", "in"},
              within(h == 0 ? 0.0 : 1.0 / 64.0, 1e-12, "the lower hinge carries"), below / inch);
  }
}

BOOST_AUTO_TEST_CASE(someone_on_the_handle)
{
  const door::Door door = barrel_door();
  const mesh::BodyMesh panel = sweep::make_panel_mesh(door, coarse(door));
  const double position = 13.7 * inch;
  const Vec3 contact_force{30.0, -20.0, -250.0};
  const elasticity::Resultant sum =
      elasticity::resultant(panel, elasticity::edge_forces(door, panel, position, contact_force),
                            {door.panel.width, 0.0, position});
  check_row(statics, {"handle-force", "handle load: error of its force", "N"},
            at_most(1e-9, "arithmetic"), norm(sum.force - contact_force));
  // Its height is exact; about x and y only the depth of the edge is left.
  check_row(
      statics,
      {"handle-height", "handle load: moment about y of its push along x, at its height", "N m"},
      within(0.0, 1e-9, "arithmetic"), sum.moment.y);
}

// Nodes of a row differ in height by their last digits, and a hand may lean just there, the next
// row out of its reach.
BOOST_AUTO_TEST_CASE(a_hand_on_a_row_of_nodes)
{
  const door::Door door = barrel_door();
  mesh::BodyMesh panel = sweep::make_panel_mesh(door, coarse(door));
  bool up = false;
  for (auto& node : panel.nodes) {
    node.z *= 7.0; // rows farther apart than a hand is broad
    node.z = std::nextafter(node.z, up ? 1e9 : -1e9);
    up = !up;
  }
  const Vec3 contact_force{30.0, -20.0, -250.0};
  double worst = 0.0;
  for (const auto& node : panel.nodes)
    if (node.x == door.panel.width)
      worst = std::max(
          worst, norm(elasticity::resultant(
                          panel, elasticity::edge_forces(door, panel, node.z, contact_force), {})
                          .force -
                      contact_force));
  check_row(statics,
            {"handle-on-a-row", "handle load at the height of a row: error of its force", "N"},
            at_most(1e-9, "arithmetic"), worst);
}

// EN 1993-1-2, 3.4.1.2, integrated by hand from 20 to 600 degC against the stored heat of the heat
// problem of a door.
BOOST_AUTO_TEST_CASE(heat_stored_in_steel)
{
  door::Door door = barrel_door();
  door.fire.schedule = {{0.0, 20.0}, {3600.0, 400.0}};
  const mesh::BodyMesh panel = sweep::make_panel_mesh(door, coarse(door));
  const heat::HeatProblem problem = heat::door_heat_problem(door, panel);
  const auto integral = [](double t) {
    return 425.0 * t + 0.773 * t * t / 2.0 - 1.69e-3 * t * t * t / 3.0 +
           2.22e-6 * t * t * t * t / 4.0;
  };
  const heat::HeatMaterial& steel = problem.materials[0];
  const Source standard{"EN 1993-1-2",
                        "EN 1993-1-2:2005, Table 3.1 and 3.4.1.1 to 3.4.1.3, as carried "
                        "by public fire-engineering codes."};
  check_row(standard,
            {"steel-stored-heat", "heat stored from 20 to 600 degC, integral by hand", "kJ/kg"},
            near((integral(599.9) - integral(20.0)) / 1e3, 1e-4, "added up in steps of 1 K"),
            (steel.enthalpy(599.9) - steel.enthalpy(20.0)) / door.steel.density / 1e3);
  double fire = 0.0;
  double room = 0.0;
  for (const auto& face : problem.faces)
    for (const double a : face.area)
      (face.kind == heat::fire_side ? fire : room) += a;
  const double w = door.panel.width - 2.0 * door.fire.gasket_inset;
  const double h = door.panel.height - 2.0 * door.fire.gasket_inset;
  check_row(statics, {"fire-side", "area inside the gasket line", "m2"},
            near(w * h, 1e-9, "arithmetic: cells are cut at the line"), fire);
  check_row(statics, {"both-sides", "area of the whole panel", "m2"},
            near(2.0 * door.panel.width * door.panel.height +
                     2.0 * (door.panel.width + door.panel.height) * door::depth(door),
                 1e-9, "arithmetic"),
            fire + room);
}
