// SPDX-License-Identifier: GPL-3.0-or-later
// Weights of plate, tube and whole doors.
//
// Sources: plate 490 lb/ft^3: 1/8 5.104, 3/16 7.656, 1/4 10.208, 3/8 15.313 psf; round 2.6725 d^2
// lb/ft; square tube 1.5 x 1.5 x 0.125 2.21 lb/ft, 2 x 2 x 0.250 5.41 lb/ft (section tables,
// secondary text; with outside corner radius 2 t). The program's rims have sharp corners, so they
// weigh up to 10 % more than rolled tube: for them the sharp-cornered rule 4 t (B - t) is the
// check, and the excess is stated.
#define BOOST_TEST_MODULE weights
#include <boost/test/unit_test.hpp>

#include "meshing/door/mass_properties.hpp"
#include "meshing/door/mesh_density.hpp"
#include "meshing/quality/mesh_quality.hpp"
#include "meshing/sweep/door_mesher.hpp"
#include "solver/analysis/open_analysis.hpp"
#include "solver/elasticity/nodal_loads.hpp"
#include "solver/fe/cell_values.hpp"
#include "tests/support/book.hpp"
#include "tests/support/random_doors.hpp"
#include "tests/support/test_doors.hpp"

#include <deal.II/fe/fe_values.h>

#include <fmt/format.h>

#include <cmath>

using namespace hangtrue;
using namespace hangtrue::test;

namespace
{

const Source tables{
    "Section tables",
    "Plate and round at 490 lb/ft^3, square tube by section tables (secondary text, recomputed)."};

constexpr double pound_mass = 0.45359237; // kg

double weight_of(const door::Door& door, const mesh::BodyMesh& body, mesh::Part part)
{
  double mass = 0.0;
  fe::visit_cells(
      body, [part](const mesh::Hex27& c) { return c.part == part; },
      [&](const fe::CellValues& at) {
        for (unsigned q = 0; q < fe::quadrature_points; ++q)
          mass += at.fe.JxW(q) * elasticity::density_of(door, body, at.cell);
      });
  return mass / pound_mass;
}

door::Door bare(double skin, double tube, double wall)
{
  door::Door door = barrel_door();
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
    const door::Door door = bare(t, 1.5, 0.125);
    const mesh::BodyMesh panel = sweep::make_panel_mesh(door, door::mesh_density(door, 1));
    check_row(tables, {fmt::format("plate-{:.4f}", t), fmt::format("plate {:.4f} in", t), "lb/ft2"},
              near(psf, 0.01, "tables round 40.833 t"),
              weight_of(door, panel, mesh::Part::outer_skin) / square_feet);
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
    const door::Door door = bare(0.25, tube.side, tube.wall);
    const mesh::BodyMesh panel = sweep::make_panel_mesh(door, door::mesh_density(door, 1));
    const double feet = 4.0 * (30.0 - tube.side) / 12.0;
    const double sharp = 4.0 * tube.wall * (tube.side - tube.wall) * 490.0 / 144.0;
    const double ours = weight_of(door, panel, mesh::Part::rim) / feet;
    const std::string size = fmt::format("{:.1f}-{:.3f}", tube.side, tube.wall);
    check_row(
        tables,
        {"tube-sharp-" + size, "square tube " + size + " with sharp corners: 4 t (B - t)", "lb/ft"},
        near(sharp, 0.01, "mitred corners of the rim"), ours);
    check_row(
        tables, {"tube-table-" + size, "the same, of the tables' rolled tube " + size, "lb/ft"},
        between(tube.table, 1.12 * tube.table, "corners of radius 2 t weigh up to a tenth less"),
        ours);
  }
}

BOOST_AUTO_TEST_CASE(pins_by_the_foot)
{
  door::Door door = barrel_door();
  door.pin_steel.density = 7849.0;
  const mesh::Mesh mesh = sweep::make_mesh(door, door::mesh_density(door, 1));
  const double ours = weight_of(door, mesh.pins[0], mesh::Part::pin) / (4.5 / 12.0);
  check_row(tables, {"round-1", "round 1 in", "lb/ft"}, near(2.673, 0.01, "facets of the rod"),
            ours);
}

// Hand formulas on nominal dimensions against the sum over the mesh: mass and centre of gravity of
// whole doors, barrels and lugs, with stiffeners that cross. Bands: the mesh merges positions
// closer than 0.2 mm, of skins down to 1.5 mm; on a door that snaps nothing only the arcs of 9-node
// faces are left, 1e-5.
BOOST_AUTO_TEST_CASE(hand_formulas_and_mesh_agree)
{
  const auto hold_together = [](const std::string& id, const door::Door& door, double band) {
    const mesh::Mesh mesh = sweep::make_mesh(door, door::mesh_density(door, 1));
    const elasticity::NodeField weight =
        elasticity::weight_forces(door, mesh.door, {0.0, 0.0, -1.0});
    const elasticity::Resultant down = elasticity::resultant(mesh.door, weight, {});
    const elasticity::NodeField sideways =
        elasticity::weight_forces(door, mesh.door, {1.0, 0.0, 0.0});
    const elasticity::Resultant across = elasticity::resultant(mesh.door, sideways, {});
    const door::PartMass drawn = door::total_mass(door::part_masses(door));
    const double force = drawn.mass * elasticity::standard_gravity;
    check_row({"Hand weights", "Hand formulas on the drawing: plates, tubes, cylinders."},
              {"whole-door-" + id, "weight of the mesh of " + id + ": by hand", "N"},
              near(force, band, "arcs of 9-node faces; places nearer than 0.2 mm are one"),
              -down.force.z);
    const double size = door.panel.width + door.panel.height;
    BOOST_TEST(std::abs(down.moment.y / force - drawn.centre.x) < band * size);
    BOOST_TEST(std::abs(-down.moment.x / force - drawn.centre.y) < band * size);
    BOOST_TEST(std::abs(across.moment.y / force - drawn.centre.z) < band * size);
  };
  hold_together("barrels", barrel_door(), 1e-5);
  hold_together("lugs", lug_door(), 1e-5);
  door::Door stiffened = barrel_door();
  stiffened.stiffeners = {
      {door::StiffenerShape::tube, door::StiffenerRun::along, 12.0 * inch, 1.0 * inch,
       0.125 * inch},
      {door::StiffenerShape::tube, door::StiffenerRun::across, 10.0 * inch, 1.5 * inch,
       0.0625 * inch},
      {door::StiffenerShape::flat_bar, door::StiffenerRun::across, 20.0 * inch, 0.25 * inch, 0.0}};
  hold_together("stiffened", stiffened, 1e-5);
  RandomDoors doors(7);
  for (int i = 0; i < 10; ++i)
    hold_together("random-" + std::to_string(i), doors.next(), 0.005);
}

// Common practice, no source: a 30 x 30 in door of two 1/4 in skins on 1-1/2 in tube, insulated,
// weighs about 150 lb, and on two hinges with a well fitted 1 in rod shows no visible sag: the
// elastic part is under 1/64 in. Band on 'about': 10 %. Jamb of 3/8 in plate supported 3 in from
// the opening, reamed bores.
BOOST_AUTO_TEST_CASE(a_thirty_inch_door)
{
  door::Door door = barrel_door();
  door.jamb = {0.375 * inch, 3.0 * inch, door::JambBacking::edge, 0.0};
  for (auto& hinge : door.hinges) {
    hinge.clearance = 0.0035 * inch;
    hinge.leaf.thickness = 0.375 * inch;
    hinge.outside_diameter = 1.75 * inch;
  }
  const mesh::Mesh mesh = sweep::make_mesh(door, door::mesh_density(door, 2));
  const analysis::OpenDoorResult open = analysis::solve_open_door({.door = door, .mesh = mesh});
  check_row(trade(), {"door-30-weight", "30 x 30 in door of two 1/4 in skins: weight", "lbf"},
            near(150.0, 0.10, "'about'"), open.weight / pound);
  check_row(trade(), {"door-30-sag", "the same on a fitted 1 in rod: elastic drop", "in"},
            at_most(1.0 / 64.0, "'no visible sag'"), open.elastic_drop / inch);
}
