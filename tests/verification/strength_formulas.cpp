// Closed strength formulas against published numbers.
#define BOOST_TEST_MODULE strength_formulas
#include <boost/test/unit_test.hpp>

#include "meshing/loft.hpp"
#include "solver/elastic_body.hpp"
#include "solver/open_door.hpp"
#include "solver/section_forces.hpp"
#include "solver/strength.hpp"
#include "tests/book.hpp"
#include "tests/test_doors.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <numbers>

using namespace hangtrue;
using namespace hangtrue::test;

namespace
{

const Source en_1993_1_8{
    "EN 1993-1-8",
    "EN 1993-1-8:2005, 3.13, Table 3.10 and eq. 3.15 (excerpts; moment formula from memory)."};
const Source shigley{
    "Shigley welds",
    "Shigley, Mechanical Engineering Design, bending and torsional properties of fillet welds as "
    "lines (secondary text; recomputed by line integration)."};
const Source by_hand_neck{"Leaf by hand",
                          "Hand calculation, bending of a rectangle: 6 M / (b t^2)."};

} // namespace

// Trade table (hand-calculated, common practice, no source): allowable moment at 0.66 Fy, A36, of
// 1/2, 3/4 and 1 in pins: 292, 984, 2333 lbf in. Band: the table's rounding, 0.2 %.
BOOST_AUTO_TEST_CASE(allowable_moment_of_round_pins)
{
  const double allowable = 0.66 * 36000.0 * psi;
  for (const auto& [d, m] : {std::pair{0.5, 292.0}, {0.75, 984.0}, {1.0, 2333.0}}) {
    const double stress = pin_bending_stress(m * pound * inch, d * inch);
    check_row(
        {"trade pins",
         "A trade table of pins, A36 at 0.66 Fy (hand-calculated, common practice, no source)."},
        {fmt::format("pin-moment-{:.2f}", d), fmt::format("allowable moment of a {:.2f} in pin", d),
         "lbf in"},
        near(m, 0.002, "the table's rounding"), allowable / stress * m);
  }
}

// EN 1993-1-8:2005 Table 3.10 and eq. 3.15. Hand calculation: d = 20 mm, M = 100 N m, V = 10 kN, fy
// = 235, fu = 360 MPa: M_Rd = 1.5 x 785.398 x 235 = 276.853 N m, V_Rd = 0.6 x 314.159 x 360 / 1.25
// = 54.287 kN.
BOOST_AUTO_TEST_CASE(pin_in_bending_and_shear)
{
  const double use = pin_combined_use(100.0, 10.0e3, 0.020, 235.0e6, 360.0e6);
  const double by_hand = std::pow(100.0 / 276.853, 2) + std::pow(10.0 / 54.287, 2);
  check_row(en_1993_1_8, {"pin-combined", "20 mm pin, M 100 N m, V 10 kN: use", ""},
            near(by_hand, 1e-5, "the digits of the hand calculation"), use);
}

// 0.591 = 1 / sqrt(pi (1 - 0.3^2)): the formula is the Hertz line pressure p0 = sqrt(P' E* / (pi
// R)) of a cylinder in a bore with 1/R = 2 (d0 - d) / (d d0) and E* = E / (2 (1 - nu^2)) (Johnson,
// Contact Mechanics, from memory). Band: rounding of 0.591 and d0 for d, 0.5 %.
BOOST_AUTO_TEST_CASE(contact_pressure_is_hertz)
{
  const double e = 210.0e9;
  const double d = 0.0254;
  const double d0 = d + 0.0004;
  const double force = 2000.0;
  const double t = 0.038;
  const double curvature = 2.0 * (d0 - d) / (d * d0);
  const double p0 = std::sqrt(force / t * e / (2.0 * (1.0 - 0.09)) * curvature / std::numbers::pi);
  check_row(
      en_1993_1_8, {"pin-contact", "contact stress of eq. 3.15: the Hertz line pressure", "Pa"},
      near(p0, 0.01, "rounding of 0.591, and d0 for d"), pin_contact_stress(e, force, d, d0, t));
}

// Shigley, Mechanical Engineering Design, table of bending and torsional properties of fillet welds
// as lines; b = 3, d = 4: box J = (b + d)^3 / 6 = 57.167, S = b d + d^2 / 3 = 17.333; two lines
// along b a distance d apart: J = b (3 d^2 + b^2) / 6 = 28.5.
BOOST_AUTO_TEST_CASE(welds_as_lines)
{
  const WeldLines box = box_weld(3.0, 4.0);
  check_row(shigley, {"weld-box-j", "box of lines 3 x 4: J", ""},
            within(57.1667, 1e-4, "digits printed"), box.about_x + box.about_z);
  check_row(shigley, {"weld-box-s", "box of lines 3 x 4: S", ""},
            within(17.3333, 1e-4, "digits printed"), box.about_x / box.half_z);
  const WeldLines pair = pair_weld(3.0, 4.0);
  check_row(shigley, {"weld-pair-j", "pair of lines 3 long, 4 apart: J", ""},
            within(28.5, 1e-9, "exact"), pair.about_x + pair.about_z);
}

// The same table, two lines 4 long and 3 apart: J = d (3 b^2 + d^2) / 6, S = d^2 / 3; here along x.
BOOST_AUTO_TEST_CASE(two_upright_lines)
{
  const WeldLines pair = pair_weld(4.0, 3.0);
  check_row(shigley, {"weld-upright-j", "two lines 4 long, 3 apart: J", ""},
            within(28.667, 5e-4, "digits printed"), pair.about_x + pair.about_z);
  check_row(shigley, {"weld-upright-s", "two lines 4 long, 3 apart: S", ""},
            within(16.0 / 3.0, 1e-9, "exact"), pair.about_z / pair.half_x);
}

// Round bars: 4 V / (pi d^2) and 32 M / (pi d^3); d = 20 mm, V = 10 kN, M = 100 N m.
BOOST_AUTO_TEST_CASE(round_bar_by_hand)
{
  const Source bars{"Round bars",
                    "Strength of materials, mean shear 4 V / (pi d^2), bending 32 M / (pi d^3)."};
  check_row(bars, {"bar-shear", "20 mm pin under 10 kN: mean shear", "MPa"},
            within(31.8310, 1e-4, "digits printed"), pin_shear_stress(10e3, 0.020) / 1e6);
  check_row(bars, {"bar-bending", "20 mm pin under 100 N m: bending", "MPa"},
            within(127.3240, 1e-4, "digits printed"), pin_bending_stress(100.0, 0.020) / 1e6);
  check_row(bars, {"plate-bending", "plate 50 wide, 10 mm deep, 100 N m: 6 M / (b t^2)", "MPa"},
            within(120.0, 1e-9, "exact"), plate_bending_stress(100.0, 0.050, 0.010) / 1e6);
}

// A plain case by hand: a box of 3 x 4 under a force along its normal spreads evenly, and E70
// fillets of 1/16 in leg carry 0.928 kip per inch at 21 ksi on the throat (AISC, from memory).
BOOST_AUTO_TEST_CASE(weld_stress_by_hand)
{
  const WeldLines box = box_weld(3.0 * inch, 4.0 * inch);
  const double kip = 1000.0 * pound;
  const double stress =
      weld_stress(box, inch / 16.0, {0.0, 14.0 * 0.928 * kip, 0.0}, {0.0, 0.0, 0.0});
  check_row({"AISC", "AISC 360, E70 fillets at 21 ksi: 0.928 kip/in per 1/16 in of leg (from "
                     "memory, recomputed)."},
            {"weld-e70", "box of 14 in, 1/16 in legs, 0.928 kip/in: stress on the throat", "psi"},
            near(21.0e3, 0.001, "rounding of 0.928"), stress / psi);
  // Bending about x: farthest line at d/2; sigma = M / S.
  const double bent = weld_stress(box, std::numbers::sqrt2, {}, {1.0, 0.0, 0.0});
  BOOST_TEST(std::abs(bent / (1.0 / (17.3333 * inch * inch)) - 1.0) < 1e-4);
}

// Moment in a rod through one middle plate b between two outer plates a with gaps c (EN
// 1993-1-8:2005 3.13, from memory): F / 8 (b + 4 c + 2 a), which is statics with even pressure in
// the plates: F / 2 (a / 2 + c + b / 2) - F b / 8; a = 10, b = 12, c = 2 mm, F = 10 kN: 50 N m. A
// rod with play touches at edges instead. Statics then bounds the solver's own section moment: F c
// / 2 where the plates touch at their facing edges (band 2 %: contact at nodes), F / 4 (b + 2 c + 2
// a) with the outer plates touching at their far edges. A rod that tilts can pass the even-pressure
// value, so verdicts use the computed moment.
BOOST_AUTO_TEST_CASE(moment_of_a_rod_through_lugs)
{
  const auto published = [](double f, double a, double b, double c) {
    return f / 8.0 * (b + 4.0 * c + 2.0 * a);
  };
  check_row(en_1993_1_8,
            {"pin-even-pressure", "F/8 (b + 4 c + 2 a), a 10, b 12, c 2 mm, 10 kN: statics", "N m"},
            within(50.0, 1e-9, "exact"), published(10e3, 0.010, 0.012, 0.002));

  Door door = lug_door();
  const Mesh mesh = loft(door, fineness(door, 1));
  const Deflection hung = deflect_open(door, mesh);
  for (std::size_t h = 0; h < door.hinges.size(); ++h) {
    double force = 0.0;
    for (const auto& k : hung.knuckles)
      if (k.hinge == static_cast<int>(h) && k.owner == Owner::door)
        force = norm(k.pin_force);
    const Hinge& hinge = door.hinges[h];
    const double plate = hinge.knuckles[0].length;
    const double even = published(force, plate, plate, hinge.knuckle_gap);
    const double near_edges = 0.5 * force * hinge.knuckle_gap;
    const double far_edges = 0.25 * force * (3.0 * plate + 2.0 * hinge.knuckle_gap);
    const auto pin = std::find_if(hung.pins.begin(), hung.pins.end(), [h](const PinForces& p) {
      return p.hinge == static_cast<int>(h);
    });
    BOOST_REQUIRE((pin != hung.pins.end()));
    check_row(
        en_1993_1_8,
        {"rod-moment-" + std::to_string(h + 1),
         fmt::format(
             "moment in a loose rod through lugs, hinge {}: statics with contact at edges (even "
             "pressure, from memory, would give {:.3g})",
             h + 1, even),
         "N m"},
        between(0.98 * near_edges, far_edges,
                "near edges to far edges, 2 % for contact at nodes; a rod that tilts can pass the "
                "even-pressure value, so verdicts use the computed moment"),
        pin->greatest_bending);
  }
}

// A rod on two supports, F half-way: F L / 4, and F / 2 on either side of it (statics). On level 1
// the middle of the rod is half-way along a cell.
BOOST_AUTO_TEST_CASE(moment_of_a_rod_pushed_half_way_along_a_cell)
{
  const Door door = barrel_door();
  const Mesh mesh = loft(door, fineness(door, 1));
  const BodyMesh& rod = mesh.pins.front();
  const AxisPlace axis = mesh.hinges.front().axis;
  const auto [low, high] = std::minmax_element(
      rod.nodes.begin(), rod.nodes.end(), [](const Vec3& a, const Vec3& b) { return a.z < b.z; });
  const double length = high->z - low->z;
  const double middle = 0.5 * (low->z + high->z);
  const double force = 1000.0; // N
  NodeField forces(rod.nodes.size());
  const auto push = [&](double z, double f) {
    std::vector<std::size_t> plane;
    for (std::size_t n = 0; n < rod.nodes.size(); ++n)
      if (std::abs(rod.nodes[n].z - z) < 1e-9)
        plane.push_back(n);
    BOOST_REQUIRE(!plane.empty());
    for (const std::size_t n : plane)
      forces[n].x += f / static_cast<double>(plane.size());
  };
  push(low->z, -0.5 * force);
  push(high->z, -0.5 * force);
  push(middle, force);
  const ElasticityOf of = [](const Hex&) { return elasticity(200e9, 0.3); };
  const NodeField moves = ElasticBody(rod, of, hold_lightly(rod)).solve(forces);
  const PinForces found = pin_section_forces(rod, 0, axis, of, moves);
  check_row({"statics", "Beam on two supports, load at mid-span: M = F L / 4, V = F / 2 (any "
                        "handbook of statics; recomputed)."},
            {"rod-mid-cell", "moment of a rod pushed half-way along a cell, 1000 N", "N m"},
            near(0.25 * force * length, 1e-6, "statics; solver's rounding"),
            found.greatest_bending);
  BOOST_TEST(std::abs(found.greatest_shear - 0.5 * force) < 1e-6 * force);
}

// Neck and web by hand: a knuckle 1 in long on a web 1/2 in thick under 100 lbf across, 1.05 x 3/4
// in below the axis: 6 x 100 x 0.7875 / (1 x 0.25) = 1890 psi; pulled outwards by 100 lbf at half
// the reveal and half the web off the axis: 6 x 100 x (3/32 + 1/4) / 0.25 + 100 / 0.5 = 1025 psi.
// The same for the frame half of an open door, whose directions are turned back.
BOOST_AUTO_TEST_CASE(neck_of_a_leaf)
{
  Door door = barrel_door();
  door.hinges[0].leaf.thickness = 0.5 * inch;
  door.hinges[0].knuckles[0].length = 1.0 * inch;
  door.hinges[0].knuckles[1].length = 1.0 * inch;
  KnuckleForce k;
  k.knuckle = 1;
  k.owner = Owner::door;
  k.pin_force = {100.0 * pound, 0.0, 0.0};
  check_row(by_hand_neck, {"neck-across", "neck of a knuckle pushed across", "psi"},
            within(1890.0, 0.01, "exact"), neck_bending_stress(door, k) / psi);
  k.pin_force = {0.0, 100.0 * pound, 0.0};
  check_row(by_hand_neck, {"neck-outwards", "neck of a knuckle pulled outwards", "psi"},
            within(1025.0, 0.01, "exact"), neck_bending_stress(door, k) / psi);
  // At 90 degrees the open door's x is the frame's y (outwards).
  k.knuckle = 0;
  k.owner = Owner::frame;
  k.pin_force = {100.0 * pound, 0.0, 0.0};
  BOOST_TEST(std::abs(neck_bending_stress(door, k) / psi - 1025.0) < 0.01);
}
