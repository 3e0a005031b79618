// SPDX-License-Identifier: GPL-3.0-or-later
// End float: what a bow takes of it, what a door needs, and hinges that bind.
#define BOOST_TEST_MODULE end_float
#include <boost/test/unit_test.hpp>

#include "cases/input/door_file.hpp"
#include "cases/verdict/end_float_quantities.hpp"
#include "cases/verdict/end_float_remedy.hpp"
#include "cases/verdict/quantities_of_interest.hpp"
#include "meshing/door/mesh_density.hpp"
#include "meshing/sweep/door_mesher.hpp"
#include "solver/analysis/closed_analysis.hpp"
#include "solver/analysis/closed_result.hpp"
#include "solver/analysis/open_analysis.hpp"
#include "solver/contact/end_float.hpp"
#include "solver/firing/critical_instant.hpp"
#include "solver/heat/thermal_state.hpp"
#include "solver/material/steel_properties.hpp"
#include "solver/strength/hinge_forces.hpp"
#include "tests/support/book.hpp"
#include "tests/support/checked_results.hpp"
#include "tests/support/closed_doors.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <string>

using namespace hangtrue;
using namespace hangtrue::test;

namespace
{

const Source plane{"Bow and hinges",
                   "Geometry of a flat door that bows evenly: its hinge halves turn with its face "
                   "(own working, beside each case)."};
const Source statics{"Statics of a bound door", "Equilibrium along the pins (own working)."};

door::MeshDensity coarse(const door::Door& door)
{
  door::MeshDensity fine = door::mesh_density(door, 1);
  fine.panel_cell = door.panel.width / 4.0;
  fine.around_pin = 16;
  return fine;
}

// Steel whose elongation is straight: a field straight through the depth bows without stress.
door::Steel straight_steel(door::Steel steel)
{
  constexpr double alpha = 1.2e-5; // 1/K
  steel.table = {{20.0, 200.0e9, 250.0e6, 250.0e6, 0.0, 45.0, 500.0},
                 {1020.0, 200.0e9, 250.0e6, 250.0e6, 1000.0 * alpha, 45.0, 500.0}};
  return steel;
}

struct Case {
  door::Door door;
  mesh::Mesh mesh;
  heat::ThermalState warm;
};

// Gaps are closed to a millionth of the largest, an inch, of displacements of a twentieth of an
// inch.
constexpr double closed_to = 1e-4;
constexpr double difference = 250.0; // K from the fire face to the outer face

Case bowed_case(double end_float)
{
  Case c;
  c.door = barrel_door();
  c.door.steel = straight_steel(c.door.steel);
  c.door.pin_steel = straight_steel(c.door.pin_steel);
  for (auto& hinge : c.door.hinges)
    hinge.end_float = end_float;
  c.mesh = sweep::make_mesh(c.door, coarse(c.door));
  c.warm = bowed(c.door, c.mesh, difference);
  c.warm.summary.inner_skin =
      20.0 + difference * (1.0 - 0.5 * c.door.panel.inner_skin / door::depth(c.door));
  c.warm.summary.outer_skin =
      20.0 + difference * 0.5 * c.door.panel.outer_skin / door::depth(c.door);
  return c;
}

analysis::OpenDoorResult open(const Case& c)
{
  return analysis::solve_open_door({.door = c.door, .mesh = c.mesh, .thermal = &c.warm});
}

double greatest_knuckle(const std::vector<strength::KnuckleForce>& knuckles)
{
  double maximum = 0.0;
  for (const auto& k : knuckles)
    maximum = std::max(maximum, norm(k.pin_force + Vec3{0.0, 0.0, k.thrust}));
  return maximum;
}

// Greatest difference of two states in the force on any knuckle, N.
double apart(const std::vector<strength::KnuckleForce>& a,
             const std::vector<strength::KnuckleForce>& b)
{
  double maximum = 0.0;
  for (std::size_t i = 0; i < a.size(); ++i)
    maximum = std::max(
        maximum, norm(a[i].pin_force - b[i].pin_force + Vec3{0.0, 0.0, a[i].thrust - b[i].thrust}));
  return maximum;
}

} // namespace

// A strain e(y) = e0 (1 - y / D) through the depth D bends the door to the curvature e0 / D and
// leaves the length of the outer face unchanged. Two faces a distance S apart along the pin rotate
// against each other by S e0 / D, and what is a standoff off the outer face approaches by
//   S x curvature x standoff  =  S x curvature x (standoff + D / 2) - S x e0 / 2,
// the pull of the bow less the growth of the middle plane. At both hinges the rotated faces touch
// at their edge on the other side, by as much below the pin, so that this adds nothing. The growth
// of the hinge edge alone, S e0 / 2 with the opposite sign, was considered in an earlier version.
BOOST_AUTO_TEST_CASE(a_bow_pulls_the_hinges_together)
{
  const Case c = bowed_case(1.0 * inch);
  const analysis::OpenDoorResult d = open(c);
  const double e0 = material::elongation(c.door.steel, 20.0 + difference);
  const double spacing = c.door.hinges[1].position - c.door.hinges[0].position;
  const double pull = spacing * e0 / door::depth(c.door) * c.door.hinges[1].leaf.standoff;
  check_row(plane,
            {"end-float-bow", "even bow: what it takes of the end float of the upper hinge", "in"},
            near(pull / inch, 0.04,
                 "lands of the leaves stiffen the face where they are welded; frame leaves bend "
                 "under the weight"),
            d.axial.hinges[1].taken / inch);
  check_row(plane, {"end-float-hand", "the hand check of the same", "in"},
            near(pull / inch, 1e-9, "the same formula from the temperatures of both skins"),
            d.axial.hinges[1].hand_estimate / inch);
  BOOST_TEST(d.axial.locked == 0.0);
  BOOST_TEST(!d.freed);
  // The weight stays on the lower hinge.
  BOOST_TEST(std::abs(d.axial.hinges[0].rests - d.weight) < 1e-6 * d.weight);
  BOOST_TEST(d.axial.hinges[1].rests == 0.0);
}

// The pull grows with the standoff.
BOOST_AUTO_TEST_CASE(a_longer_standoff_takes_more)
{
  Case c = bowed_case(1.0 * inch);
  const double before = open(c).axial.hinges[1].taken;
  for (auto& hinge : c.door.hinges)
    hinge.leaf.standoff = 3.0 * inch;
  c.mesh = sweep::make_mesh(c.door, coarse(c.door));
  c.warm = bowed(c.door, c.mesh, difference);
  const double after = open(c).axial.hinges[1].taken;
  check_row(plane,
            {"end-float-standoff", "even bow: pull with 3 in of standoff over that with 2", ""},
            near(1.5, 0.04, "as above"), after / before);
}

// The need is read from a solution with ample end float. With a thousandth more the door has the
// same displacements as with an inch, with a hundredth less it has not.
BOOST_AUTO_TEST_CASE(what_is_needed_is_exact)
{
  const Case ample = bowed_case(1.0 * inch);
  const analysis::OpenDoorResult wide = open(ample);
  Case tight = bowed_case(inch / 32.0);
  const analysis::OpenDoorResult bound = open(tight);
  for (const int h : {0, 1})
    check_row(plane,
              {fmt::format("end-float-needed-{}", h + 1),
               fmt::format("needed at hinge {} by a door with 1/32 in, over that by one with 1 in",
                           h + 1),
               ""},
              near(1.0, 1e-3,
                   "pins come to within half a step of their place on a circle, 0.2 % of a force "
                   "across; the need feels a part of it"),
              bound.axial.hinges[h].required / wide.axial.hinges[h].required);
  const double needed = std::max(wide.axial.hinges[0].required, wide.axial.hinges[1].required);
  const double greatest = greatest_knuckle(wide.knuckles);
  Case enough = bowed_case(1.001 * needed);
  const analysis::OpenDoorResult just = open(enough);
  BOOST_TEST(apart(just.knuckles, wide.knuckles) < closed_to * greatest);
  BOOST_TEST(!contact::exceeds_end_float(just.axial));
  Case less = bowed_case(0.99 * needed);
  const analysis::OpenDoorResult moved = open(less);
  BOOST_TEST(contact::exceeds_end_float(moved.axial));
  BOOST_TEST(apart(moved.knuckles, wide.knuckles) > 1e-3 * greatest);
}

// A hinge that uses its neighbour's float: half of it lies below the upper hinge, all of it over
// the lower one, once and a half together. Against that are the pull and the rotated faces, which
// touch at an edge on either side: R / standoff of the pull for both hinges, as in two_that_carry.
// Beyond both the hinges bind, and along the pins what lifts the door is its weight and what holds
// it down.
BOOST_AUTO_TEST_CASE(bound_hinges_and_their_remedy)
{
  const Case wide_case = bowed_case(1.0 * inch);
  const analysis::OpenDoorResult wide = open(wide_case);
  const double pull = wide.axial.hinges[1].taken;
  // 1.5 x 0.95 = 1.43 of the pull is there and 1 + 0.75 / 2 = 1.38 is needed at most: the weight
  // has moved, and they do not bind yet.
  Case moved_case = bowed_case(0.95 * pull);
  const analysis::OpenDoorResult moved = open(moved_case);
  BOOST_TEST(moved.axial.locked < 1e-9 * moved.weight);
  BOOST_TEST(std::abs(moved.axial.hinges[1].rests - moved.weight) < 1e-6 * moved.weight);
  BOOST_TEST(contact::exceeds_end_float(moved.axial));

  Case bound_case = bowed_case(0.3 * pull);
  const analysis::OpenDoorResult bound = open(bound_case);
  BOOST_TEST(bound.axial.locked > bound.weight);
  double lifts = 0.0;
  double holds = 0.0;
  for (const auto& at : bound.axial.hinges) {
    lifts += at.rests;
    holds += at.held;
    BOOST_TEST(std::min(at.below, at.above) < 1e-3 * at.room);
  }
  check_row(statics,
            {"end-float-bound",
             "bound door: what lifts it less what holds it down, over "
             "its weight",
             ""},
            near(1.0, 1e-8, "the books of the solution"), (lifts - holds) / bound.weight);

  // The reported remedy is the door with that end float, computed whole.
  BOOST_REQUIRE(bound.freed != nullptr);
  BOOST_TEST(bound.freed->axial.locked == 0.0);
  BOOST_TEST(apart(bound.freed->knuckles, wide.knuckles) <
             closed_to * greatest_knuckle(wide.knuckles));
  BOOST_TEST(std::abs(bound.freed->drop - wide.drop) < closed_to * std::abs(wide.drop));
  BOOST_TEST(greatest_knuckle(bound.knuckles) > 3.0 * greatest_knuckle(bound.freed->knuckles));
}

// Where both hinges are drawn to carry, the bow lifts the door off the lower one: it is carried by
// the upper, and the remedy puts it on one that carries with the other free both ways.
BOOST_AUTO_TEST_CASE(two_that_carry)
{
  Case c = bowed_case(1.0 * inch);
  c.door.hinges[1].carries_weight = true;
  const analysis::OpenDoorResult both = open(c);
  BOOST_TEST(both.axial.hinges[0].rests == 0.0);
  BOOST_TEST(std::abs(both.axial.hinges[1].rests - both.weight) < 1e-6 * both.weight);
  BOOST_REQUIRE(both.freed != nullptr);
  BOOST_TEST(std::abs(both.freed->axial.hinges[0].rests - both.weight) < 1e-6 * both.weight);
  // What a face has turned is what its edges take of the free play on both sides.
  BOOST_REQUIRE(both.axial.faces.size() == 1U);
  const contact::HingeEndFloat& upper = both.axial.hinges[1];
  BOOST_TEST(c.door.hinges[1].outside_diameter * both.axial.faces[0].tilt ==
                 c.door.hinges[1].end_float - upper.below - upper.above,
             boost::test_tools::tolerance(0.03));
  // The lower hinge is lifted by the pull, and its faces and those of the upper one have rotated by
  // S e0 / D together: at their edges, R off the pin, they approach by R / standoff of the pull.
  // The compliance of the hinges under the weight counts at the upper one where the lower carries
  // and against it here, so that it is not in the sum of both.
  const double R = 0.5 * c.door.hinges[0].outside_diameter;
  const double standoff = c.door.hinges[0].leaf.standoff;
  const double e0 = material::elongation(c.door.steel, 20.0 + difference);
  const double pull =
      (c.door.hinges[1].position - c.door.hinges[0].position) * e0 / door::depth(c.door) * standoff;
  check_row(
      plane,
      {"end-float-both",
       "needed at the lower of two that carry, and at the upper where one does, over the pull", ""},
      near(2.0 + R / standoff, 0.04, "as for the pull itself"),
      (both.axial.hinges[0].required + both.freed->axial.hinges[1].taken) / pull);
}

// Closed on its gasket: the same need whatever is drawn, and other end floats in a closing are
// those of a door drawn so.
BOOST_AUTO_TEST_CASE(closed_door_needs_it_as_well)
{
  const auto closed = [](double end_float, double closing_float) {
    door::Door door = smoke_door({0.146 * 30.0 * inch, 0.854 * 30.0 * inch});
    for (auto& hinge : door.hinges)
      hinge.end_float = end_float;
    const mesh::Mesh closed_mesh = analysis::make_closed_mesh(door, 1);
    const heat::ThermalState thermal = bowed(door, closed_mesh, difference);
    analysis::AnalysisCache cache;
    analysis::ClosedDoorAnalysis position(door, closed_mesh, &thermal, door.latches, cache);
    analysis::ClosingSetup closing = analysis::closing_setup(door);
    for (auto& f : closing.floats)
      f.end_float = closing_float;
    return position.solve(closing, {}, analysis::ClosedDoorAnalysis::CachedDetail::checks);
  };
  const analysis::ClosedDoorResult wide = closed(1.0 * inch, 1.0 * inch);
  const analysis::ClosedDoorResult bound = closed(0.01 * inch, 0.01 * inch);
  const analysis::ClosedDoorResult freed = closed(0.01 * inch, 1.0 * inch);
  BOOST_TEST(bound.axial.locked > 0.5 * bound.weight);
  BOOST_TEST(wide.axial.locked == 0.0);
  check_row(plane,
            {"end-float-shut", "shut: needed by a door with 0.01 in over that with 1 in", ""},
            near(1.0, 1e-4, "gaps are closed to a millionth of the largest, here an inch"),
            bound.axial.hinges[1].required / wide.axial.hinges[1].required);
  const double greatest = greatest_knuckle(wide.knuckles);
  BOOST_TEST(apart(freed.knuckles, wide.knuckles) < closed_to * greatest);
  BOOST_TEST(apart(bound.knuckles, wide.knuckles) > 0.1 * greatest);
}

// A cold door rests where it is drawn to and needs next to nothing.
BOOST_AUTO_TEST_CASE(cold_door)
{
  const door::Door door = barrel_door();
  const mesh::Mesh mesh = sweep::make_mesh(door, coarse(door));
  const analysis::OpenDoorResult d = analysis::solve_open_door({.door = door, .mesh = mesh});
  BOOST_TEST(d.axial.locked == 0.0);
  BOOST_TEST(std::abs(d.axial.hinges[0].rests - d.weight) < 1e-6 * d.weight);
  BOOST_TEST(!contact::exceeds_end_float(d.axial));
  for (const auto& at : d.axial.hinges)
    BOOST_TEST(at.below + at.above <= door.hinges[at.hinge].end_float);
}

// A lid: no weight along its hinges, so a pair shares the play between its faces.
BOOST_AUTO_TEST_CASE(lid_with_a_level_axis)
{
  Case c = bowed_case(1.0 * inch);
  c.door.hanging = door::HingeEdge::top;
  const analysis::OpenDoorResult wide = open(c);
  BOOST_TEST(wide.axial.locked < 1e-6 * wide.weight);
  const double pull = wide.axial.hinges[1].taken;
  // On its own drawn side each hinge has 1 or 1/2 of its end float: the pair 3/2.
  for (const double times : {0.9, 1.1}) {
    for (auto& hinge : c.door.hinges)
      hinge.end_float = times * pull / 1.5;
    const analysis::OpenDoorResult d = open(c);
    BOOST_TEST(contact::exceeds_end_float(d.axial) == (times < 1.0));
    BOOST_TEST((d.axial.locked > 0.01 * d.weight) == (times < 1.0));
  }
}

namespace
{

// Two invented oven doors without latches; all that is not said is as by default, end float 1/32
// in.
const std::string fire_and_filling = R"([insulation]
kind = "ceramic fibre"
conductivity = [["20 degC", "0.06 W/m/K"], ["600 degC", "0.06 W/m/K"]]
[fire]
schedule = [["0 min", "20 degC"], ["30 min", "450 degC"], ["2 h", "450 degC"]]
)";

std::string hinge_text(const std::string& at)
{
  return "[[hinge]]\nat = \"" + at + "\"\npin_diameter = \"1 in\"\nclearance = \"drilled\"\n";
}

const std::string square_oven = R"([door]
width = "30 in"
height = "30 in"
[skins]
outer = "1/4 in"
inner = "1/4 in"
[rim]
width = "1-1/2 in"
depth = "1-1/2 in"
wall = "1/8 in"
)" + hinge_text("4-1/2 in") + hinge_text("25-1/2 in") +
                                fire_and_filling;

const std::string tall_oven = R"([door]
width = "24 in"
height = "40 in"
[skins]
outer = "3/16 in"
inner = "3/16 in"
[rim]
width = "2 in"
depth = "2 in"
wall = "1/8 in"
[[stiffener]]
shape = "tube"
runs = "across"
at = "20 in"
width = "2 in"
wall = "1/8 in"
)" + hinge_text("5-1/2 in") + hinge_text("34-1/2 in") +
                              fire_and_filling;

// A door in its fire, most bowed: bound as drawn, reported so, and freed by the advice.
void check_oven(const std::string& id, const std::string& text)
{
  const input::DoorCase c = input::read_door_text(text, id);
  const mesh::Mesh mesh = sweep::make_mesh(c.door, coarse(c.door));
  const firing::ThermalLoadCases load_cases =
      firing::analyse_firing(c.door, mesh.door, [](double) {});
  const heat::ThermalState& hot = load_cases.states.front();
  const analysis::OpenDoorResult d =
      analysis::solve_open_door({.door = c.door, .mesh = mesh, .thermal = &hot});
  const contact::HingeEndFloat& upper = d.axial.hinges[1];
  check_row(plane,
            {id + "-hand",
             "oven door, most bowed: end float taken at the upper hinge, by hand over "
             "the solution",
             ""},
            near(1.0, 0.15,
                 "the skins' mean temperatures for the whole door, whose hinge edge is a rim tube"),
            upper.hand_estimate / upper.taken);
  // What the growth of the hinge edge alone would take.
  const double grown = std::abs(material::elongation(c.door.steel, d.temperatures.hinge_edge) -
                                material::elongation(c.door.steel, d.temperatures.jamb)) *
                       (c.door.hinges[1].position - c.door.hinges[0].position);
  BOOST_TEST(upper.taken > 5.0 * grown);
  const auto drawn = checks_of(c, d);
  BOOST_TEST((named(drawn, qoi::Quantity::end_float).verdict == verdict::Verdict::fails));
  BOOST_TEST((named(drawn, qoi::Quantity::bound_hinges).verdict == verdict::Verdict::fails));
  BOOST_TEST(d.axial.locked > 5.0 * d.weight);
  const auto freed = verdict::with_free_hinges(c, {{&d}, {}}, drawn);
  BOOST_REQUIRE(freed.has_value());
  const analysis::OpenDoorResult after =
      analysis::solve_open_door({.door = freed->door, .mesh = mesh, .thermal = &hot});
  const auto judged = checks_of(*freed, after);
  BOOST_TEST((named(judged, qoi::Quantity::end_float).verdict == verdict::Verdict::holds));
  BOOST_TEST((named(judged, qoi::Quantity::bound_hinges).verdict == verdict::Verdict::holds));
  BOOST_TEST(named(judged, qoi::Quantity::leaf_bending).found <
             0.5 * named(drawn, qoi::Quantity::leaf_bending).found);
  // As computed beside the bound one: either route leaves a pin within half a step of its position
  // on a circle, 0.12 degrees, to one side or the other, so that directions of a force are up to a
  // step of 0.23 degrees apart, 0.4 % of it across (solver/contact/contact_circles.hpp).
  constexpr double followed_to = 4e-3;
  BOOST_REQUIRE(d.freed != nullptr);
  BOOST_TEST(apart(d.freed->knuckles, after.knuckles) <
             followed_to * greatest_knuckle(after.knuckles));
  BOOST_TEST_MESSAGE(fmt::format(
      "{}: weight {:.1f} lbf; taken {:.4f} in of {:.4f}, by hand {:.4f}, by the edge's growth "
      "{:.4f}; needed {:.4f} and {:.4f} in; held {:.0f}, lifted {:.0f} lbf; leaf bending {:.2f} "
      "ksi, freed {:.2f}",
      id, d.weight / pound, upper.taken / inch, upper.room / inch, upper.hand_estimate / inch,
      grown / inch, d.axial.hinges[0].required / inch, upper.required / inch,
      (d.axial.hinges[0].held + d.axial.hinges[1].held) / pound,
      (d.axial.hinges[0].rests + d.axial.hinges[1].rests) / pound,
      named(drawn, qoi::Quantity::leaf_bending).found / (1000.0 * psi),
      named(judged, qoi::Quantity::leaf_bending).found / (1000.0 * psi)));
}

} // namespace

BOOST_AUTO_TEST_CASE(square_oven_door)
{
  check_oven("end-float-square-oven", square_oven);
}

BOOST_AUTO_TEST_CASE(tall_oven_door)
{
  check_oven("end-float-tall-oven", tall_oven);
}
