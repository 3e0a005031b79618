// End float: what a bow takes of it, what a door needs, and hinges that bind.
#define BOOST_TEST_MODULE end_float
#include <boost/test/unit_test.hpp>

#include "cases/door_file.hpp"
#include "cases/float_advice.hpp"
#include "cases/float_findings.hpp"
#include "meshing/loft.hpp"
#include "solver/closed_door.hpp"
#include "solver/end_float.hpp"
#include "solver/open_door.hpp"
#include "solver/steel.hpp"
#include "solver/worst_instant.hpp"
#include "tests/book.hpp"
#include "tests/shut_doors.hpp"

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

Fineness coarse(const Door& door)
{
  Fineness fine = fineness(door, 1);
  fine.panel_cell = door.panel.width / 4.0;
  fine.around_pin = 16;
  return fine;
}

// Steel whose elongation is straight: a field straight through the depth bows without stress.
Steel straight_steel(Steel steel)
{
  constexpr double alpha = 1.2e-5; // 1/K
  steel.table = {{20.0, 200.0e9, 250.0e6, 250.0e6, 0.0, 45.0, 500.0},
                 {1020.0, 200.0e9, 250.0e6, 250.0e6, 1000.0 * alpha, 45.0, 500.0}};
  return steel;
}

struct Case {
  Door door;
  Mesh mesh;
  WarmDoor warm;
};

// Gaps are closed to a millionth of the largest, an inch, of movements of a twentieth of an inch.
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
  c.mesh = loft(c.door, coarse(c.door));
  c.warm = bowed(c.door, c.mesh, difference);
  c.warm.warmth.inner_skin =
      20.0 + difference * (1.0 - 0.5 * c.door.panel.inner_skin / depth(c.door));
  c.warm.warmth.outer_skin = 20.0 + difference * 0.5 * c.door.panel.outer_skin / depth(c.door);
  return c;
}

Deflection open(const Case& c)
{
  return deflect_open(c.door, c.mesh, {}, &c.warm);
}

double greatest_knuckle(const std::vector<KnuckleForce>& knuckles)
{
  double most = 0.0;
  for (const auto& k : knuckles)
    most = std::max(most, norm(k.pin_force + Vec3{0.0, 0.0, k.thrust}));
  return most;
}

// Most by which two states differ in the force on any knuckle, N.
double apart(const std::vector<KnuckleForce>& a, const std::vector<KnuckleForce>& b)
{
  double most = 0.0;
  for (std::size_t i = 0; i < a.size(); ++i)
    most = std::max(
        most, norm(a[i].pin_force - b[i].pin_force + Vec3{0.0, 0.0, a[i].thrust - b[i].thrust}));
  return most;
}

} // namespace

// A strain e(y) = e0 (1 - y / D) through the depth D bends the door to the curvature e0 / D and
// leaves the outer face as long as it was. Two faces a distance S apart along the pin turn against
// each other by S e0 / D, and what stands a standoff off the outer face comes nearer by
//   S x curvature x standoff  =  S x curvature x (standoff + D / 2) - S x e0 / 2,
// the pull of the bow less the growth of the middle plane. At both hinges the turned faces touch at
// their edge that turns towards the other side, by as much below the pin, so that this adds
// nothing. The growth of the hinge edge alone, S e0 / 2 with the opposite sign, is what was looked
// at before.
BOOST_AUTO_TEST_CASE(a_bow_pulls_the_hinges_together)
{
  const Case c = bowed_case(1.0 * inch);
  const Deflection d = open(c);
  const double e0 = elongation(c.door.steel, 20.0 + difference);
  const double spacing = c.door.hinges[1].at - c.door.hinges[0].at;
  const double pull = spacing * e0 / depth(c.door) * c.door.hinges[1].leaf.standoff;
  check_row(plane,
            {"end-float-bow", "even bow: what it takes of the end float of the upper hinge", "in"},
            near(pull / inch, 0.04,
                 "lands of the leaves stiffen the face where they are welded; frame leaves bend "
                 "under the weight"),
            d.axial.hinges[1].taken / inch);
  check_row(plane, {"end-float-hand", "the hand check of the same", "in"},
            near(pull / inch, 1e-9, "the same formula from the temperatures of both skins"),
            d.axial.hinges[1].hand / inch);
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
  c.mesh = loft(c.door, coarse(c.door));
  c.warm = bowed(c.door, c.mesh, difference);
  const double after = open(c).axial.hinges[1].taken;
  check_row(plane,
            {"end-float-standoff", "even bow: pull with 3 in of standoff over that with 2", ""},
            near(1.5, 0.04, "as above"), after / before);
}

// Shut on its gasket: the same need whatever is drawn, and other end floats in a closing are those
// of a door drawn so.
BOOST_AUTO_TEST_CASE(closed_door_needs_it_as_well)
{
  const auto closed = [](double end_float, double closing_float) {
    Door door = smoke_door({0.146 * 30.0 * inch, 0.854 * 30.0 * inch});
    for (auto& hinge : door.hinges)
      hinge.end_float = end_float;
    const Mesh shut = shut_mesh(door, 1);
    const WarmDoor warm = bowed(door, shut, difference);
    FactoredBodies kept;
    ShutDoor standing(door, shut, &warm, door.latches, kept);
    Closing closing = closing_of(door);
    for (auto& f : closing.floats)
      f.end_float = closing_float;
    return standing.close(closing, {}, ShutDoor::Detail::checks);
  };
  const ClosedDoor wide = closed(1.0 * inch, 1.0 * inch);
  const ClosedDoor bound = closed(0.01 * inch, 0.01 * inch);
  const ClosedDoor freed = closed(0.01 * inch, 1.0 * inch);
  BOOST_TEST(bound.axial.locked > 0.5 * bound.weight);
  BOOST_TEST(wide.axial.locked == 0.0);
  check_row(plane,
            {"end-float-shut", "shut: needed by a door with 0.01 in over that with 1 in", ""},
            near(1.0, 1e-4, "gaps are closed to a millionth of the largest, here an inch"),
            bound.axial.hinges[1].needed / wide.axial.hinges[1].needed);
  const double greatest = greatest_knuckle(wide.knuckles);
  BOOST_TEST(apart(freed.knuckles, wide.knuckles) < closed_to * greatest);
  BOOST_TEST(apart(bound.knuckles, wide.knuckles) > 0.1 * greatest);
}

// A cold door rests where it is drawn to and needs next to nothing.
BOOST_AUTO_TEST_CASE(cold_door)
{
  const Door door = barrel_door();
  const Mesh mesh = loft(door, coarse(door));
  const Deflection d = deflect_open(door, mesh);
  BOOST_TEST(d.axial.locked == 0.0);
  BOOST_TEST(std::abs(d.axial.hinges[0].rests - d.weight) < 1e-6 * d.weight);
  BOOST_TEST(!short_of_float(d.axial));
  for (const auto& at : d.axial.hinges)
    BOOST_TEST(at.below + at.above <= door.hinges[at.hinge].end_float);
}

// A lid: no weight along its hinges, so a pair shares what lies between its faces.
BOOST_AUTO_TEST_CASE(lid_with_a_level_axis)
{
  Case c = bowed_case(1.0 * inch);
  c.door.hanging = Hanging::top;
  const Deflection wide = open(c);
  BOOST_TEST(wide.axial.locked < 1e-6 * wide.weight);
  const double pull = wide.axial.hinges[1].taken;
  // On its own drawn side each hinge has 1 or 1/2 of its end float: the pair 3/2.
  for (const double times : {0.9, 1.1}) {
    for (auto& hinge : c.door.hinges)
      hinge.end_float = times * pull / 1.5;
    const Deflection d = open(c);
    BOOST_TEST(short_of_float(d.axial) == (times < 1.0));
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

const Finding& named(const std::vector<Finding>& all, const std::string& name)
{
  const auto at =
      std::find_if(all.begin(), all.end(), [&](const Finding& f) { return f.name == name; });
  BOOST_REQUIRE((at != all.end()));
  return *at;
}

// A door in its fire, most bowed: bound as drawn, told so, and freed by what it is advised.
void check_oven(const std::string& id, const std::string& text)
{
  const DoorCase c = read_door_text(text, id);
  const Mesh mesh = loft(c.door, coarse(c.door));
  const Firing firing = fire_door(c.door, mesh.door, [](double) {});
  const WarmDoor& hot = firing.states.front();
  const Deflection d = deflect_open(c.door, mesh, {}, &hot);
  const HingeFloat& upper = d.axial.hinges[1];
  check_row(plane,
            {id + "-hand",
             "oven door, most bowed: end float taken at the upper hinge, by hand over "
             "the solution",
             ""},
            near(1.0, 0.15,
                 "the skins' mean temperatures for the whole door, whose hinge edge is a rim tube"),
            upper.hand / upper.taken);
  // What the growth of the hinge edge alone would take.
  const double grown = std::abs(elongation(c.door.steel, d.warmth.hinge_edge) -
                                elongation(c.door.steel, d.warmth.jamb)) *
                       (c.door.hinges[1].at - c.door.hinges[0].at);
  BOOST_TEST(upper.taken > 5.0 * grown);
  const auto drawn = judge(c, d);
  BOOST_TEST((named(drawn, "end float taken").verdict == Verdict::fails));
  BOOST_TEST((named(drawn, "hinges bound along the pin").verdict == Verdict::fails));
  BOOST_TEST(d.axial.locked > 5.0 * d.weight);
  const auto freed = freed_case(c, {{&d}, {}}, drawn);
  BOOST_REQUIRE(freed.has_value());
  const Deflection after = deflect_open(freed->door, mesh, {}, &hot);
  const auto judged = judge(*freed, after);
  BOOST_TEST((named(judged, "end float taken").verdict == Verdict::holds));
  BOOST_TEST((named(judged, "hinges bound along the pin").verdict == Verdict::holds));
  BOOST_TEST(named(judged, "leaf bending").found < 0.5 * named(drawn, "leaf bending").found);
  BOOST_REQUIRE(d.freed != nullptr);
  BOOST_TEST_MESSAGE(fmt::format(
      "{}: weight {:.1f} lbf; taken {:.4f} in of {:.4f}, by hand {:.4f}, by the edge's growth "
      "{:.4f}; needed {:.4f} and {:.4f} in; held {:.0f}, lifted {:.0f} lbf; leaf bending {:.2f} "
      "ksi, freed {:.2f}",
      id, d.weight / pound, upper.taken / inch, upper.room / inch, upper.hand / inch, grown / inch,
      d.axial.hinges[0].needed / inch, upper.needed / inch,
      (d.axial.hinges[0].held + d.axial.hinges[1].held) / pound,
      (d.axial.hinges[0].rests + d.axial.hinges[1].rests) / pound,
      named(drawn, "leaf bending").found / (1000.0 * psi),
      named(judged, "leaf bending").found / (1000.0 * psi)));
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
