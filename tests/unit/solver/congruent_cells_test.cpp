// SPDX-License-Identifier: GPL-3.0-or-later
// What is integrated over one cell serves all of its shape, and no other.
#define BOOST_TEST_MODULE congruent_cells
#include <boost/test/unit_test.hpp>

#include "meshing/door/mesh_density.hpp"
#include "meshing/sweep/door_mesher.hpp"
#include "solver/elasticity/assembly.hpp"
#include "solver/elasticity/elastic_body.hpp"
#include "solver/fe/congruent_cells.hpp"
#include "solver/linear_algebra/block_cholesky.hpp"
#include "tests/support/test_doors.hpp"

#include <algorithm>
#include <cstddef>
#include <random>
#include <vector>

using namespace hangtrue;

namespace
{

elasticity::NodeField matrix_times(const linear_algebra::BlockMatrix& k,
                                   const elasticity::NodeField& u)
{
  elasticity::NodeField result(u.size());
  for (int column = 0; column < k.size(); ++column)
    for (int i = k.start[column]; i < k.start[column + 1]; ++i) {
      const int row = k.row[i];
      const auto& b = k.block[i]; // column by column
      result[row] += u[column].x * Vec3{b[0], b[1], b[2]} + u[column].y * Vec3{b[3], b[4], b[5]} +
                     u[column].z * Vec3{b[6], b[7], b[8]};
      if (row == column)
        continue;
      result[column] += {dot({b[0], b[1], b[2]}, u[row]), dot({b[3], b[4], b[5]}, u[row]),
                         dot({b[6], b[7], b[8]}, u[row])};
    }
  return result;
}

} // namespace

BOOST_AUTO_TEST_CASE(every_selected_cell_is_in_one_group_of_its_shape)
{
  const door::Door door = test::barrel_door();
  const mesh::BodyMesh body = sweep::make_mesh(door, door::mesh_density(door, 1)).door;
  const auto groups = fe::congruent_cells(body, fe::is_steel);
  std::vector<int> met(body.cells.size(), 0);
  for (const auto& group : groups) {
    BOOST_TEST(group.members.front() == group.first);
    const mesh::Hex27& one = body.cells[group.first];
    for (const std::size_t c : group.members) {
      ++met[c];
      const mesh::Hex27& other = body.cells[c];
      for (int n = 0; n < 27; ++n) {
        const Vec3 apart = (body.nodes[other.node[n]] - body.nodes[other.node[0]]) -
                           (body.nodes[one.node[n]] - body.nodes[one.node[0]]);
        BOOST_TEST(norm(apart) < 3e-13); // m: the grid's diagonal
      }
    }
  }
  std::size_t wanted = 0;
  for (std::size_t c = 0; c < body.cells.size(); ++c) {
    BOOST_TEST(met[c] == (fe::is_steel(body.cells[c]) ? 1 : 0));
    wanted += fe::is_steel(body.cells[c]) ? 1 : 0;
  }
  BOOST_TEST(groups.size() < wanted / 4); // a swept mesh repeats its section
}

BOOST_AUTO_TEST_CASE(a_bent_cell_is_a_group_of_its_own)
{
  const door::Door door = test::barrel_door();
  mesh::BodyMesh body = sweep::make_panel_mesh(door, door::mesh_density(door, 1));
  const std::size_t before = fe::congruent_cells(body, fe::is_steel).size();
  for (const auto& cell : body.cells)
    if (fe::is_steel(cell)) {
      body.nodes[cell.node[13]].x += 1e-9; // m: the middle belongs to this cell alone
      break;
    }
  BOOST_TEST(fe::congruent_cells(body, fe::is_steel).size() == before + 1);
}

// The assembled stiffness against forces that are integrated cell by cell, with steel that differs
// from cell to cell in both constants; a Poisson's ratio of zero is steel as well.
BOOST_AUTO_TEST_CASE(stiffness_of_groups_is_that_of_their_cells)
{
  const door::Door door = test::barrel_door();
  mesh::BodyMesh body = sweep::make_panel_mesh(door, door::mesh_density(door, 1));
  std::mt19937 random(7);
  std::uniform_real_distribution<double> any(-1.0, 1.0);
  std::vector<elasticity::Elasticity> steel;
  for (auto& cell : body.cells) {
    cell.part = mesh::Part::ring; // some steel
    const auto kind = steel.size() % 3;
    steel.push_back(
        elasticity::elasticity(2e11 * (1.5 + any(random)), 0.15 * static_cast<double>(kind)));
  }
  elasticity::NodeField displacements(body.nodes.size());
  for (auto& u : displacements)
    u = {any(random), any(random), any(random)};
  const fe::Discretization space(body);
  const elasticity::NodeField by_matrix =
      matrix_times(elasticity::assemble_stiffness(space, steel), displacements);
  const elasticity::NodeField by_cells = elasticity::internal_forces(
      space, fe::is_steel,
      [&](const mesh::Hex27& cell) { return steel[&cell - space.body().cells.data()]; },
      displacements);
  double greatest = 0.0;
  double apart = 0.0;
  for (std::size_t n = 0; n < displacements.size(); ++n) {
    greatest = std::max(greatest, norm(by_cells[n]));
    apart = std::max(apart, norm(by_matrix[n] - by_cells[n]));
  }
  // Cells are congruent to 1e-13 of a metre, the thinnest is 3e-3 thick.
  BOOST_TEST(apart < 1e-10 * greatest);
}
