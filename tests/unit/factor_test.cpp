// One right-hand side has one answer, to the last bit, whatever stands beside it.
#define BOOST_TEST_MODULE factor
#include <boost/test/unit_test.hpp>

#include "meshing/loft.hpp"
#include "solver/cell_shapes.hpp"
#include "solver/elastic_body.hpp"
#include "solver/symmetric_factor.hpp"
#include "tests/test_doors.hpp"

#include <algorithm>
#include <filesystem>
#include <iterator>
#include <random>
#include <vector>

using namespace hangtrue;

namespace
{

using Columns = std::vector<std::vector<double>>;

// The stiffness of a small panel with its first nodes held.
struct HeldPanel {
  BodyMesh mesh;
  std::vector<char> held;
  explicit HeldPanel(const Door& door)
  {
    Fineness fine = fineness(door, 1);
    fine.panel_cell = door.panel.height;
    mesh = loft_panel(door, fine);
    held.assign(3 * mesh.nodes.size(), 0);
    for (std::size_t u = 0; u < 60; ++u)
      held[u] = 1;
    for (auto& cell : mesh.cells)
      cell.part = Part::ring; // some steel
  }
};

std::ptrdiff_t threads_now()
{
  using Entries = std::filesystem::directory_iterator;
  return std::distance(Entries("/proc/self/task"), Entries());
}

} // namespace

// First of all, since shapes are made once. A pool of a library's own would stand beside our two
// threads.
BOOST_AUTO_TEST_CASE(shapes_start_no_threads)
{
  const HeldPanel panel(test::barrel_door());
  const auto before = threads_now();
  BOOST_TEST(before >= 1);
  int cells = 0;
  visit_cells(
      panel.mesh, [&cells](const Hex&) { return ++cells == 1; },
      [](const Hex&, const CellShape&) {});
  BOOST_TEST(threads_now() == before);
}

BOOST_AUTO_TEST_CASE(neighbours_do_not_change_an_answer)
{
  const HeldPanel panel(test::barrel_door());
  const Elasticity steel{1.2e11, 8e10};
  const SymmetricFactor factor(
      assemble_stiffness(panel.mesh, std::vector<Elasticity>(panel.mesh.cells.size(), steel)),
      panel.held);
  constexpr std::size_t width = 12; // as in factored_part.cpp
  std::mt19937 draw(1);
  std::uniform_real_distribution<double> force(-1.0, 1.0);
  Columns all(width, std::vector<double>(panel.held.size()));
  for (auto& column : all)
    for (double& f : column)
      f = force(draw);
  const Columns together = factor.solve(all);
  for (std::size_t shift = 1; shift < width; shift += 2) {
    Columns turned = all;
    std::rotate(turned.begin(), turned.begin() + static_cast<std::ptrdiff_t>(shift), turned.end());
    const std::size_t alone = shift % 5 + 1; // the others are zero now
    for (std::size_t k = alone; k < width; ++k)
      turned[k].assign(panel.held.size(), 0.0);
    const Columns other = factor.solve(turned);
    for (std::size_t k = 0; k < alone; ++k)
      BOOST_TEST((other[k] == together[(k + shift) % width]), "column " << k << " by " << shift);
  }
}

// The same of an answer that is begun and finished around unknowns that wait.
BOOST_AUTO_TEST_CASE(neighbours_do_not_change_what_is_begun_and_finished)
{
  const HeldPanel panel(test::barrel_door());
  const Elasticity steel{1.2e11, 8e10};
  std::vector<int> last;
  for (int u = 90; u < 135; ++u)
    last.push_back(u);
  const SymmetricFactor factor(
      assemble_stiffness(panel.mesh, std::vector<Elasticity>(panel.mesh.cells.size(), steel)),
      panel.held, nullptr, last);
  constexpr std::size_t width = 12; // as in factored_part.cpp
  std::mt19937 draw(2);
  std::uniform_real_distribution<double> force(-1.0, 1.0);
  Columns all(width, std::vector<double>(panel.held.size()));
  for (auto& column : all)
    for (double& f : column)
      f = force(draw);
  const Columns still(width, std::vector<double>(last.size(), 0.0));
  const auto begun = factor.begin(all);
  const Columns together = factor.finish(begun, still);
  for (std::size_t shift = 1; shift < width; shift += 2) {
    Columns turned = all;
    std::rotate(turned.begin(), turned.begin() + static_cast<std::ptrdiff_t>(shift), turned.end());
    const std::size_t alone = shift % 5 + 1; // the others are zero now
    for (std::size_t k = alone; k < width; ++k)
      turned[k].assign(panel.held.size(), 0.0);
    const auto other = factor.begin(turned);
    const Columns finished = factor.finish(other, still);
    for (std::size_t k = 0; k < alone; ++k) {
      const std::size_t was = (k + shift) % width;
      BOOST_TEST((other[k].last == begun[was].last), "begun column " << k << " by " << shift);
      BOOST_TEST((finished[k] == together[was]), "column " << k << " by " << shift);
    }
  }
}
