// SPDX-License-Identifier: GPL-3.0-or-later
// One right-hand side has one solution, to the last bit, whatever the other columns of its block.
#define BOOST_TEST_MODULE factor
#include <boost/test/unit_test.hpp>

#include "meshing/door/mesh_density.hpp"
#include "meshing/sweep/door_mesher.hpp"
#include "solver/elasticity/assembly.hpp"
#include "solver/elasticity/elastic_body.hpp"
#include "solver/fe/cell_values.hpp"
#include "solver/linear_algebra/block_cholesky.hpp"
#include "tests/support/test_doors.hpp"

#include <algorithm>
#include <filesystem>
#include <iterator>
#include <random>
#include <vector>

using namespace hangtrue;

namespace
{

using Columns = std::vector<std::vector<double>>;

// The stiffness of a small panel with its first nodes fixed.
struct HeldPanel {
  mesh::BodyMesh mesh;
  std::vector<char> held;
  explicit HeldPanel(const door::Door& door)
  {
    door::MeshDensity fine = door::mesh_density(door, 1);
    fine.panel_cell = door.panel.height;
    mesh = sweep::make_panel_mesh(door, fine);
    held.assign(3 * mesh.nodes.size(), 0);
    for (std::size_t u = 0; u < 60; ++u)
      held[u] = 1;
    for (auto& cell : mesh.cells)
      cell.part = mesh::Part::ring; // some steel
  }
};

constexpr std::size_t width = 12; // as in condensed_substructure.cpp

Columns some_columns(std::size_t rows, unsigned seed)
{
  std::mt19937 draw(seed);
  std::uniform_real_distribution<double> force(-1.0, 1.0);
  Columns all(width, std::vector<double>(rows));
  for (auto& column : all)
    for (double& f : column)
      f = force(draw);
  return all;
}

// The columns moved so many positions to the left; all but the first `alone` are zero.
Columns moved_on(Columns columns, std::size_t places, std::size_t alone)
{
  std::rotate(columns.begin(), columns.begin() + static_cast<std::ptrdiff_t>(places),
              columns.end());
  for (std::size_t k = alone; k < width; ++k)
    columns[k].assign(columns[k].size(), 0.0);
  return columns;
}

std::ptrdiff_t threads_now()
{
  using Entries = std::filesystem::directory_iterator;
  return std::distance(Entries("/proc/self/task"), Entries());
}

} // namespace

// First of all, since shapes are built once. A pool of a library's own would come on top of the
// program's two threads.
BOOST_AUTO_TEST_CASE(shapes_start_no_threads)
{
  const HeldPanel panel(test::barrel_door());
  const auto before = threads_now();
  BOOST_TEST(before >= 1);
  int cells = 0;
  fe::visit_cells(
      panel.mesh, [&cells](const mesh::Hex27&) { return ++cells == 1; },
      [](const fe::CellValues&) {});
  BOOST_TEST(threads_now() == before);
}

BOOST_AUTO_TEST_CASE(neighbours_do_not_change_a_solution)
{
  const HeldPanel panel(test::barrel_door());
  const elasticity::Elasticity steel{1.2e11, 8e10};
  const linear_algebra::BlockCholesky factor(
      elasticity::assemble_stiffness(
          panel.mesh, std::vector<elasticity::Elasticity>(panel.mesh.cells.size(), steel)),
      panel.held);
  const Columns all = some_columns(panel.held.size(), 1);
  const Columns together = factor.solve(all);
  for (std::size_t shift = 1; shift < width; shift += 2) {
    const std::size_t alone = shift % 5 + 1; // the others are zero now
    const Columns turned = moved_on(all, shift, alone);
    const Columns other = factor.solve(turned);
    for (std::size_t k = 0; k < alone; ++k)
      BOOST_TEST((other[k] == together[(k + shift) % width]), "column " << k << " by " << shift);
  }
}

// The same of a forward elimination and back substitution around retained unknowns.
BOOST_AUTO_TEST_CASE(neighbours_do_not_change_elimination_and_substitution)
{
  const HeldPanel panel(test::barrel_door());
  const elasticity::Elasticity steel{1.2e11, 8e10};
  std::vector<int> last;
  for (int u = 90; u < 135; ++u)
    last.push_back(u);
  const linear_algebra::BlockCholesky factor(
      elasticity::assemble_stiffness(
          panel.mesh, std::vector<elasticity::Elasticity>(panel.mesh.cells.size(), steel)),
      panel.held, nullptr, last);
  const Columns all = some_columns(panel.held.size(), 2);
  const Columns still(width, std::vector<double>(last.size(), 0.0));
  const auto forward = factor.forward_eliminate(all);
  const Columns together = factor.back_substitute(forward, still);
  for (std::size_t shift = 1; shift < width; shift += 2) {
    const std::size_t alone = shift % 5 + 1; // the others are zero now
    const Columns turned = moved_on(all, shift, alone);
    const auto other = factor.forward_eliminate(turned);
    const Columns finished = factor.back_substitute(other, still);
    for (std::size_t k = 0; k < alone; ++k) {
      const std::size_t was = (k + shift) % width;
      BOOST_TEST((other[k].interface == forward[was].interface),
                 "begun column " << k << " by " << shift);
      BOOST_TEST((finished[k] == together[was]), "column " << k << " by " << shift);
    }
  }
}
