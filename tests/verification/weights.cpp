// Weights of plate, tube and whole doors.
//
// Sources: plate 490 lb/ft^3: 1/8 5.104, 3/16 7.656, 1/4 10.208, 3/8 15.313 psf; round 2.6725 d^2
// lb/ft; square tube 1.5 x 1.5 x 0.125 2.21 lb/ft, 2 x 2 x 0.250 5.41 lb/ft (section tables,
// secondary text; with outside corner radius 2 t). Our rims have sharp corners, so they weigh up to
// 10 % more than rolled tube: for them the sharp-cornered rule 4 t (B - t) is the check, and the
// excess is stated.
#define BOOST_TEST_MODULE weights
#include <boost/test/unit_test.hpp>

#include "meshing/loft.hpp"
#include "meshing/mesh_quality.hpp"
#include "meshing/weights.hpp"
#include "solver/door_loads.hpp"
#include "solver/open_door.hpp"
#include "tests/random_doors.hpp"
#include "tests/test_doors.hpp"

#include <cmath>

using namespace hangtrue;
using namespace hangtrue::test;

namespace
{

constexpr double pound_mass = 0.45359237; // kg

double weight_of(const Door& door, const BodyMesh& body, Part part)
{
  double mass = 0.0;
  visit_cells(
      body, [part](const Hex& c) { return c.part == part; },
      [&](const Hex& cell, const CellShape& shape) {
        for (const double v : shape.volume)
          mass += v * density_of(door, body, cell);
      });
  return mass / pound_mass;
}

Door bare(double skin, double tube, double wall)
{
  Door door = barrel_door();
  door.steel.density = 7849.0; // 490 lb/ft^3
  door.insulation = {"none", 0.0};
  door.panel.outer_skin = skin * inch;
  door.panel.inner_skin = skin * inch;
  door.rim = {tube * inch, tube * inch, wall * inch};
  return door;
}

} // namespace

BOOST_AUTO_TEST_CASE(plates_by_the_square_foot)
{
  const double square_feet = 30.0 * 30.0 / 144.0;
  for (const auto& [t, psf] :
       {std::pair{0.125, 5.104}, {0.1875, 7.656}, {0.25, 10.208}, {0.375, 15.313}}) {
    const Door door = bare(t, 1.5, 0.125);
    const BodyMesh panel = loft_panel(door, fineness(door, 1));
    BOOST_TEST(std::abs(weight_of(door, panel, Part::outer_skin) / (psf * square_feet) - 1.0) <
               0.01);
  }
}

BOOST_AUTO_TEST_CASE(rims_by_the_foot)
{
  struct Tube {
    double side;
    double wall;
    double table;
  };
  for (const Tube& tube : {Tube{1.5, 0.125, 2.21}, Tube{2.0, 0.125, 3.06}, Tube{2.0, 0.25, 5.41}}) {
    const Door door = bare(0.25, tube.side, tube.wall);
    const BodyMesh panel = loft_panel(door, fineness(door, 1));
    const double feet = 4.0 * (30.0 - tube.side) / 12.0;
    const double sharp = 4.0 * tube.wall * (tube.side - tube.wall) * 490.0 / 144.0;
    const double ours = weight_of(door, panel, Part::rim) / feet;
    BOOST_TEST(std::abs(ours / sharp - 1.0) < 0.01);
    const double excess = ours / tube.table - 1.0;
    BOOST_TEST_MESSAGE("sharp corners weigh " << 100.0 * excess << " % more than the table");
    BOOST_TEST(excess > 0.0);
    BOOST_TEST(excess < 0.12);
  }
}

BOOST_AUTO_TEST_CASE(pins_by_the_foot)
{
  Door door = barrel_door();
  door.pin_steel.density = 7849.0;
  const Mesh mesh = loft(door, fineness(door, 1));
  const double ours = weight_of(door, mesh.pins[0], Part::pin) / (4.5 / 12.0);
  BOOST_TEST(std::abs(ours / 2.673 - 1.0) < 0.01);
}

// Hand formulas on the drawing against the sum over the mesh: mass and centre of gravity of whole
// doors, barrels and lugs, with stiffeners that cross. Bands: the mesh makes places closer than
// 0.2 mm one, of skins down to 1.5 mm; on a door that snaps nothing only the arcs of 9-node faces
// are left, 1e-5.
BOOST_AUTO_TEST_CASE(hand_formulas_and_mesh_agree)
{
  const auto hold_together = [](const Door& door, double band) {
    const Mesh mesh = loft(door, fineness(door, 1));
    const NodeField weight = weight_forces(door, mesh.door, {0.0, 0.0, -1.0});
    const Resultant down = resultant(mesh.door, weight, {});
    const NodeField sideways = weight_forces(door, mesh.door, {1.0, 0.0, 0.0});
    const Resultant across = resultant(mesh.door, sideways, {});
    const PartMass drawn = together(part_masses(door));
    const double force = drawn.mass * standard_gravity;
    BOOST_TEST(std::abs(-down.force.z / force - 1.0) < band);
    const double size = door.panel.width + door.panel.height;
    BOOST_TEST(std::abs(down.moment.y / force - drawn.centre.x) < band * size);
    BOOST_TEST(std::abs(-down.moment.x / force - drawn.centre.y) < band * size);
    BOOST_TEST(std::abs(across.moment.y / force - drawn.centre.z) < band * size);
  };
  hold_together(barrel_door(), 1e-5);
  hold_together(lug_door(), 1e-5);
  Door stiffened = barrel_door();
  stiffened.stiffeners = {
      {StiffenerShape::tube, StiffenerRun::along, 12.0 * inch, 1.0 * inch, 0.125 * inch},
      {StiffenerShape::tube, StiffenerRun::across, 10.0 * inch, 1.5 * inch, 0.0625 * inch},
      {StiffenerShape::flat_bar, StiffenerRun::across, 20.0 * inch, 0.25 * inch, 0.0}};
  hold_together(stiffened, 1e-5);
  RandomDoors doors(7);
  for (int i = 0; i < 10; ++i)
    hold_together(doors.next(), 0.005);
}

// Common practice, no source: a 30 x 30 in door of two 1/4 in skins on 1-1/2 in tube, insulated,
// weighs about 150 lb, and on two hinges with a well fitted 1 in rod shows no visible sag: the
// elastic part is under 1/64 in. Band on 'about': 10 %. Jamb of 3/8 in plate held 3 in from the
// opening, reamed bores.
BOOST_AUTO_TEST_CASE(a_thirty_inch_door)
{
  Door door = barrel_door();
  door.jamb = {0.375 * inch, 3.0 * inch, JambBacking::edge, 0.0};
  for (auto& hinge : door.hinges) {
    hinge.clearance = 0.0035 * inch;
    hinge.leaf.thickness = 0.375 * inch;
    hinge.outside_diameter = 1.75 * inch;
  }
  const Mesh mesh = loft(door, fineness(door, 2));
  const Deflection hung = deflect_open(door, mesh);
  BOOST_TEST_MESSAGE("weight " << hung.weight / pound << " lbf, elastic "
                               << hung.elastic_drop / inch << " in, drop " << hung.drop / inch
                               << " in");
  BOOST_TEST(std::abs(hung.weight / pound / 150.0 - 1.0) < 0.10);
  BOOST_TEST(hung.elastic_drop < inch / 64.0);
}
