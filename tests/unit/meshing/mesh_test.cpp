// SPDX-License-Identifier: GPL-3.0-or-later
// The mesh: what it must be, and that other programs' libraries read it.
#define BOOST_TEST_MODULE mesh
#include <boost/test/unit_test.hpp>

#include "meshing/common/errors.hpp"
#include "meshing/door/mesh_density.hpp"
#include "meshing/mesh/hex27_geometry.hpp"
#include "meshing/mesh/msh_writer.hpp"
#include "meshing/quality/mesh_quality.hpp"
#include "meshing/section/grid_planes.hpp"
#include "meshing/sweep/cylinder_surfaces.hpp"
#include "meshing/sweep/door_mesher.hpp"
#include "tests/support/test_doors.hpp"

#include <gmsh.h>

#include <algorithm>
#include <cmath>
#include <filesystem>
#include <map>
#include <string>
#include <unistd.h>
#include <utility>
#include <vector>

using namespace hangtrue;
using namespace hangtrue::test;
namespace fs = std::filesystem;

namespace
{

std::string temporary(const std::string& name)
{
  return (fs::temp_directory_path() / (std::to_string(getpid()) + "-" + name)).string();
}

double volume_of(const mesh::BodyMesh& body)
{
  double volume = 0.0;
  for (const auto& cell : body.cells)
    volume += mesh::measure(body, cell).volume;
  return volume;
}

// Webs of all leaves from above their lands to below their barrels, m^3.
double drawn_webs(const door::Door& door)
{
  double volume = 0.0;
  for (const auto& hinge : door.hinges)
    if (hinge.kind == door::HingeKind::barrels)
      volume += 2.0 * hinge.leaf.thickness * hinge.leaf.length *
                (hinge.leaf.standoff - 1.05 * door::outside_radius(hinge) - hinge.leaf.thickness);
  return volume;
}

} // namespace

// A node that rounding has put just below the beginning of its circle is the first, not the last.
// None of today's random doors has such a node, so it is tested here.
BOOST_AUTO_TEST_CASE(a_circle_begins_with_the_node_at_zero)
{
  constexpr double turn = 2.0 * 3.14159265358979323846;
  constexpr double radius = 0.01; // m
  for (const double rounding : {1e-16, 1e-12, 1e-9})
    BOOST_TEST(sweep::turn_from_zero(-rounding, radius) == 0.0);
  BOOST_TEST(sweep::turn_from_zero(-1e-3, radius) == turn - 1e-3,
             boost::test_tools::tolerance(1e-12));
  BOOST_TEST(sweep::turn_from_zero(turn + 0.5, radius) == 0.5, boost::test_tools::tolerance(1e-12));
}

BOOST_AUTO_TEST_CASE(every_level_passes_its_own_checks)
{
  for (const door::PinFixity pin : {door::PinFixity::floating, door::PinFixity::fixed})
    for (int level = 1; level <= 3; ++level)
      for (const door::Door& door : {barrel_door(pin), lug_door(pin)}) {
        const quality::MeshQuality quality =
            quality::inspect(sweep::make_mesh(door, door::mesh_density(door, level)), door);
        BOOST_TEST(quality.min_jacobian > 0.0);
        // Nothing of these doors is snapped: only arcs approximated by parabolas are off, by phi^4
        // / 30 with phi half the angle of a cell (series of the segment's area), 15 degrees at most
        // here.
        BOOST_TEST(quality.worst_volume < 1.1e-5);
        BOOST_TEST(quality.worst_joint < 1e-9);
      }
}

BOOST_AUTO_TEST_CASE(finer_levels_have_more_cells)
{
  const door::Door door = barrel_door();
  int last = 0;
  for (int level = 1; level <= 3; ++level) {
    const int cells =
        quality::inspect(sweep::make_mesh(door, door::mesh_density(door, level)), door).cells;
    BOOST_TEST(cells > last);
    last = cells;
  }
}

// A space between grid lines that two meshes divide alike is in neither's error estimate, which is
// a difference of the two.
BOOST_AUTO_TEST_CASE(no_space_of_several_cells_is_divided_alike_on_levels_1_and_2)
{
  const door::Door door = barrel_door();
  const door::MeshDensity coarse = door::mesh_density(door, 1);
  const door::MeshDensity fine = door::mesh_density(door, 2);
  for (double length = 0.01; length < door.panel.height; length *= 1.05) {
    const int cells = section::cell_count(length, section::panel_cells(fine));
    if (cells > 1)
      BOOST_TEST(section::cell_count(length, section::panel_cells(coarse)) < cells);
  }
}

// A panel nearly six times as long as wide, with a stiffener up its middle third: one cell on
// either side of it was all that levels 1 and 2 had.
BOOST_AUTO_TEST_CASE(a_slender_panel_has_more_cells_across_on_every_level)
{
  door::Door door = barrel_door();
  door.panel.width = 0.36;
  door.panel.height = 2.1;
  door.rim.width = 0.036;
  door.rim.wall = 0.002;
  door.hinges.back().position += 2.1 - barrel_door().panel.height;
  door::Stiffener stiffener;
  stiffener.run = door::StiffenerRun::along;
  stiffener.position = 0.15;
  stiffener.width = 0.01;
  door.stiffeners = {stiffener};
  const auto cells = [&](int level, double from, double to) {
    const auto x = section::across_panel(door, door::mesh_density(door, level));
    const auto inside = [&](double p) { return p > from - 1e-9 && p < to + 1e-9; };
    return std::count_if(x.begin(), x.end(), inside) - 1;
  };
  for (const auto& [from, to] : {std::pair{0.036, 0.145}, {0.155, 0.324}}) {
    BOOST_TEST(cells(1, from, to) < cells(2, from, to));
    BOOST_TEST(cells(2, from, to) >= 2);
  }
}

// Lengths of the cells along a bore, from its planes (ends and middles).
std::vector<double> cells_along(const mesh::Cylinder& bore)
{
  std::vector<double> result;
  for (std::size_t p = 0; p + 2 < bore.z.size(); p += 2)
    result.push_back(bore.z[p + 2] - bore.z[p]);
  return result;
}

BOOST_AUTO_TEST_CASE(cells_are_short_where_a_pin_bears)
{
  for (const door::Door& door : {barrel_door(), lug_door()})
    for (int level = 3; level <= 4; ++level) {
      const mesh::Mesh mesh = sweep::make_mesh(door, door::mesh_density(door, level));
      for (std::size_t h = 0; h < mesh.hinges.size(); ++h)
        for (std::size_t k = 0; k < mesh.hinges[h].knuckles.size(); ++k) {
          const auto cells = cells_along(mesh.hinges[h].knuckles[k].bore);
          const double whole = door.hinges[h].knuckles[k].length / (level - 1);
          BOOST_REQUIRE(static_cast<int>(cells.size()) >= level);
          // Half a cell, or up to what is cut elsewhere within a third of one of that place.
          BOOST_TEST(std::max(cells.front(), cells.back()) < (0.5 + 1.0 / 3.0) * whole);
          BOOST_TEST(std::min(cells.front(), cells.back()) < 0.5 * whole + section::snap_distance);
          // What a weld leaves of a knuckle may be half as long again as a cell of a uniform
          // division.
          BOOST_TEST(*std::max_element(cells.begin(), cells.end()) <
                     1.5 * door.hinges[h].knuckles[k].length / level + section::snap_distance);
        }
    }
}

BOOST_AUTO_TEST_CASE(a_turned_cell_is_found)
{
  const door::Door door = barrel_door();
  mesh::Mesh mesh = sweep::make_mesh(door, door::mesh_density(door, 1));
  auto& node = mesh.door.cells[10].node;
  for (int row = 0; row < 27; row += 3)
    std::swap(node[row], node[row + 2]);
  BOOST_CHECK_THROW(quality::inspect(mesh, door), ComputeError);
}

BOOST_AUTO_TEST_CASE(a_leaf_that_is_not_welded_is_found)
{
  door::Door door = barrel_door();
  const mesh::Mesh mesh = sweep::make_mesh(door, door::mesh_density(door, 1));
  door.hinges[0].weld = door::WeldExtent::full_face; // another weld than it was meshed with
  BOOST_CHECK_THROW(quality::inspect(mesh, door), ComputeError);
}

BOOST_AUTO_TEST_CASE(a_missing_part_is_found)
{
  const door::Door door = barrel_door();
  mesh::Mesh mesh = sweep::make_mesh(door, door::mesh_density(door, 1));
  std::erase_if(mesh.door.cells, [](const mesh::Hex27& c) { return c.part == mesh::Part::rim; });
  BOOST_CHECK_THROW(quality::inspect(mesh, door), ComputeError);
}

// Positions closer than 0.2 mm are merged (decision 9): a part keeps its steel and its welds
// wherever a neighbour's position replaces that of its own end.
BOOST_AUTO_TEST_CASE(parts_keep_their_steel_where_positions_are_merged)
{
  const double near = 0.15e-3; // m
  std::map<std::string, door::Door> doors;
  for (const double off : {-near, near})
    for (const auto& [name, drawn] :
         {std::pair<std::string, door::Door>{"barrels", barrel_door()}, {"lugs", lug_door()}}) {
      const std::string side = name + (off > 0.0 ? ", above" : ", below");
      door::Door door = drawn;
      door.rim.width = door.hinges[0].leaf.width + off;
      doors["land beside the rim's inner side, " + side] = door;
      if (off > 0.0) { // a land does not reach past the plate
        door = drawn;
        door.jamb.free_width = door.hinges[0].leaf.width + off;
        doors["land beside the held edge of the jamb, " + side] = door;
      }
    }
  for (const double off : {-near, near}) {
    door::Door door = barrel_door();
    door.hinges[0].leaf.thickness = door.rim.wall + off;
    door.hinges[0].weld_leg = 0.8 * door.hinges[0].leaf.thickness;
    doors["web beside the rim's wall, " + std::to_string(off)] = door;
    door = barrel_door();
    door.jamb.backing = door::JambBacking::flange;
    door.jamb.flange_depth = inch;
    door.jamb.thickness = door.hinges[0].leaf.thickness + off;
    doors["web beside the flange, " + std::to_string(off)] = door;
  }
  for (const auto& [name, door] : doors)
    BOOST_TEST_CONTEXT(name)
    {
      BOOST_REQUIRE(door::faults(door).empty());
      for (int level = 1; level <= 2; ++level) {
        quality::MeshQuality quality;
        BOOST_CHECK_NO_THROW(quality = quality::inspect(
                                 sweep::make_mesh(door, door::mesh_density(door, level)), door));
        // 0.2 mm of the thinnest that is changed, the wall of 3.2 mm.
        BOOST_TEST(quality.worst_volume < 0.2 / 3.0);
        BOOST_TEST(quality.volume[mesh::Part::web] == drawn_webs(door),
                   boost::test_tools::tolerance(0.2 / 3.0));
      }
    }
}

// A bead across the end of a leaf exists wherever its two sides are snapped to.
BOOST_AUTO_TEST_CASE(beads_stay_where_positions_are_merged)
{
  const double near = 0.15e-3; // m
  door::Door door = barrel_door();
  const door::Span span = door::hinge_span(door.hinges[0]);
  const double inner_side = span.from + door.hinges[0].weld_leg;
  // Flat bars whose sides replace the positions of the bead's: its outer side inwards, its inner
  // away.
  const double wide = inner_side + near - (span.from - near);
  door.stiffeners.push_back({door::StiffenerShape::flat_bar, door::StiffenerRun::across,
                             0.5 * (span.from + inner_side), wide, 0.0});
  BOOST_REQUIRE(door::faults(door).empty());
  quality::MeshQuality quality;
  BOOST_REQUIRE_NO_THROW(
      quality = quality::inspect(sweep::make_mesh(door, door::mesh_density(door, 1)), door));
  // The bead of 50.8 mm grows or shrinks by 0.15 mm at either side; its nominal area is 29.6 cm^2.
  BOOST_TEST(quality.worst_joint < 50.8 * 0.3 / 2960.0);
}

BOOST_AUTO_TEST_CASE(gmsh_reads_it_back)
{
  const door::Door door = barrel_door();
  const mesh::Mesh mesh = sweep::make_mesh(door, door::mesh_density(door, 1));
  const std::string file = temporary("door.msh");
  mesh::write_msh(mesh, file);
  std::size_t cells = mesh.door.cells.size() + mesh.frame.cells.size();
  double volume = volume_of(mesh.door) + volume_of(mesh.frame);
  for (const auto& pin : mesh.pins) {
    cells += pin.cells.size();
    volume += volume_of(pin);
  }
  gmsh::initialize();
  gmsh::option::setNumber("General.Terminal", 0);
  gmsh::open(file);
  std::vector<int> types;
  std::vector<std::vector<std::size_t>> elements;
  std::vector<std::vector<std::size_t>> nodes;
  gmsh::model::mesh::getElements(types, elements, nodes, 3);
  std::size_t read = 0;
  for (std::size_t t = 0; t < types.size(); ++t) {
    BOOST_TEST(types[t] == 12); // 27-node hexahedron
    read += elements[t].size();
  }
  // Gmsh's own Jacobians integrate to the same volume.
  std::vector<double> points;
  std::vector<double> weights;
  gmsh::model::mesh::getIntegrationPoints(12, "Gauss6", points, weights);
  std::vector<double> jacobians;
  std::vector<double> determinants;
  std::vector<double> places;
  gmsh::model::mesh::getJacobians(12, points, jacobians, determinants, places);
  double sum = 0.0;
  for (std::size_t k = 0; k < determinants.size(); ++k)
    sum += determinants[k] * weights[k % weights.size()];
  gmsh::finalize();
  fs::remove(file);
  BOOST_TEST(read == cells);
  BOOST_TEST(std::abs(sum / volume - 1.0) < 1e-9);
}
