// SPDX-License-Identifier: GPL-3.0-or-later
// A body as deal.II sees it: cells, geometry and degrees of freedom.
#define BOOST_TEST_MODULE discretization
#include <boost/test/unit_test.hpp>

#include "meshing/door/mesh_density.hpp"
#include "meshing/mesh/hex27_geometry.hpp"
#include "meshing/mesh/joint_group.hpp"
#include "meshing/sweep/door_mesher.hpp"
#include "solver/fe/cell_values.hpp"
#include "solver/fe/discretization.hpp"
#include "tests/support/random_doors.hpp"
#include "tests/support/test_doors.hpp"

#include <deal.II/dofs/dof_handler.h>
#include <deal.II/dofs/dof_tools.h>
#include <deal.II/fe/fe_values.h>
#include <deal.II/fe/mapping.h>
#include <deal.II/grid/tria.h>

#include <set>
#include <string>
#include <vector>

using namespace hangtrue;
using namespace hangtrue::test;

namespace
{

std::vector<door::Door> doors()
{
  std::vector<door::Door> result{barrel_door(), barrel_door(door::PinFixity::fixed), lug_door()};
  for (auto& hinge : result.front().hinges)
    hinge.weld = door::WeldExtent::beads; // the land is welded round its edge only
  for (const door::SkinRelease kind :
       {door::SkinRelease::stitched, door::SkinRelease::floating, door::SkinRelease::split}) {
    result.push_back(barrel_door());
    result.back().inner_hold.kind = kind;
    result.back().inner_hold.split_at = 0.4 * result.back().panel.width;
  }
  for (unsigned seed = 1; seed <= 6; ++seed)
    result.push_back(RandomDoors(seed).next());
  return result;
}

std::vector<const mesh::BodyMesh*> bodies_of(const mesh::Mesh& mesh)
{
  std::vector<const mesh::BodyMesh*> result{&mesh.door, &mesh.frame};
  for (const auto& pin : mesh.pins)
    result.push_back(&pin);
  return result;
}

void check(const mesh::BodyMesh& body)
{
  const fe::Discretization space(body);
  BOOST_TEST(space.triangulation().n_active_cells() == body.cells.size());
  std::set<int> nodes;
  for (const auto& cell : body.cells)
    nodes.insert(cell.node.begin(), cell.node.end());
  const auto& dofs = space.dofs();
  const auto& node_of_dof = space.node_of_dof();
  BOOST_TEST((std::set<int>(node_of_dof.begin(), node_of_dof.end()) == nodes));
  std::vector<dealii::Point<3>> place(dofs.n_dofs());
  dealii::DoFTools::map_dofs_to_support_points(space.mapping(), dofs, place);
  double apart = 0.0; // m
  for (std::size_t d = 0; d < place.size(); ++d) {
    const Vec3& node = body.nodes[space.node_of_dof()[d]];
    apart = std::max(apart, norm(node - Vec3{place[d][0], place[d][1], place[d][2]}));
  }
  BOOST_TEST(apart < 1e-12);
  for (const auto& cell : space.triangulation().active_cell_iterators())
    BOOST_REQUIRE(static_cast<int>(cell->material_id()) ==
                  static_cast<int>(body.cells[cell->active_cell_index()].part));
}

} // namespace

BOOST_AUTO_TEST_CASE(every_degree_of_freedom_is_a_node)
{
  for (const door::Door& door : doors())
    for (const int level : {1, 2}) {
      const mesh::Mesh mesh = sweep::make_mesh(door, door::mesh_density(door, level));
      for (const auto* body : bodies_of(mesh))
        BOOST_TEST_CONTEXT(door.name << ", level " << level << ", " << body->name) check(*body);
    }
}

// Nodes that a weld joins have one degree of freedom for every group that has them.
BOOST_AUTO_TEST_CASE(groups_have_vertices_of_their_own)
{
  door::Door door = barrel_door();
  for (auto& hinge : door.hinges)
    hinge.weld = door::WeldExtent::beads;
  const mesh::Mesh mesh = sweep::make_mesh(door, door::mesh_density(door, 1));
  const fe::Discretization space(mesh.door);
  const auto groups = mesh::joint_groups(mesh.door);
  std::vector<std::set<int>> of_node(mesh.door.nodes.size());
  for (std::size_t c = 0; c < mesh.door.cells.size(); ++c)
    for (const int n : mesh.door.cells[c].node)
      of_node[n].insert(groups[c]);
  std::size_t more = 0; // groups beyond the first at every node
  for (const auto& here : of_node)
    more += here.empty() ? 0 : here.size() - 1;
  BOOST_TEST(more > 0U);
  BOOST_TEST(space.dofs().n_dofs() == mesh.door.nodes.size() + more);
}

// The geometry is that of all 27 nodes: volumes of curved cells against an integration of its own.
BOOST_AUTO_TEST_CASE(round_parts_stay_round)
{
  const door::Door door = barrel_door();
  const mesh::Mesh mesh = sweep::make_mesh(door, door::mesh_density(door, 2));
  for (const auto* body : bodies_of(mesh)) {
    double worst = 0.0;
    fe::visit_cells(
        *body, [](const mesh::Hex27&) { return true; },
        [&](const fe::CellValues& at) {
          double volume = 0.0;
          for (unsigned q = 0; q < fe::quadrature_points; ++q)
            volume += at.fe.JxW(q);
          worst = std::max(worst, std::abs(volume / mesh::measure(*body, at.cell).volume - 1.0));
        });
    BOOST_TEST(worst < 1e-11);
  }
}
