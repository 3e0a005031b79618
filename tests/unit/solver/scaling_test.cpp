// SPDX-License-Identifier: GPL-3.0-or-later
// A door of twice the size in a material twice as stiff has twice the displacements: nothing in the
// program has a length of its own.
//
// Source: dimensional analysis (own working, tests/support/scaled_doors.hpp): with density and
// gravity unchanged, density x g x L / E is the only ratio with both size and stiffness.
#define BOOST_TEST_MODULE scaling
#include <boost/test/unit_test.hpp>

#include "meshing/door/mesh_density.hpp"
#include "meshing/sweep/door_mesher.hpp"
#include "solver/analysis/closed_analysis.hpp"
#include "solver/analysis/closed_result.hpp"
#include "solver/analysis/open_analysis.hpp"
#include "solver/contact/gasket_model.hpp"
#include "solver/heat/thermal_state.hpp"
#include "tests/support/closed_doors.hpp"
#include "tests/support/random_doors.hpp"
#include "tests/support/scaled_doors.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <string>
#include <utility>

using namespace hangtrue;
using namespace hangtrue::test;

namespace
{

// Results of the same door at another size, as fractions of the expected ones.
class Compared
{
public:
  explicit Compared(double times) : times_(times) {}

  // `power` of the size that the quantity scales with; `whole`: what a small one is a part of.
  void add(const std::string& what, int power, double small, double large, double whole)
  {
    const double off = std::abs(large / std::pow(times_, power) - small) / std::abs(whole);
    BOOST_TEST_MESSAGE(fmt::format("{:<28} {: .8e} {: .8e} off {:.1e}", what, small, large, off));
    worst_ = std::max(worst_, off);
  }
  void add(const std::string& what, int power, double small, double large)
  {
    add(what, power, small, large, small);
  }
  [[nodiscard]] double worst() const { return worst_; }

private:
  double times_;
  double worst_ = 0.0;
};

door::MeshDensity coarse(const door::Door& door)
{
  door::MeshDensity fine = door::mesh_density(door, 1);
  fine.panel_cell = std::max(door.panel.width, door.panel.height) / 6.0;
  fine.hinge_cell = fine.panel_cell;
  fine.around_pin = 12;
  return fine;
}

double compare_open(const door::Door& door, const door::Door& other, double times)
{
  const analysis::OpenDoorResult a =
      analysis::solve_open_door({.door = door, .mesh = sweep::make_mesh(door, coarse(door))});
  const analysis::OpenDoorResult b =
      analysis::solve_open_door({.door = other, .mesh = sweep::make_mesh(other, coarse(other))});
  Compared c(times);
  double maximum = 0.0;
  for (const auto& corner : a.corners)
    maximum = std::max(maximum, norm(corner.move));
  c.add("weight", 3, a.weight, b.weight);
  c.add("drop", 1, a.drop, b.drop);
  c.add("steel part", 1, a.elastic_drop, b.elastic_drop, a.drop);
  c.add("lean", 1, a.lean, b.lean, maximum);
  c.add("set-back", 1, a.set_back, b.set_back, maximum);
  for (std::size_t k = 0; k < a.knuckles.size(); ++k)
    c.add("knuckle", 3, norm(a.knuckles[k].pin_force), norm(b.knuckles[k].pin_force), a.weight);
  for (std::size_t p = 0; p < a.pins.size(); ++p)
    c.add("pin bending", 4, a.pins[p].greatest_bending, b.pins[p].greatest_bending);
  if (a.load_offset)
    c.add("a hair to one side", 1, a.load_offset->sides[0].drop, b.load_offset->sides[0].drop);
  return c.worst();
}

double compare_open(const door::Door& door, double times)
{
  return compare_open(door, scaled(door, times), times);
}

double compare_closed(const door::Door& door, double times, double difference)
{
  const door::Door other = scaled(door, times);
  const auto closed = [&](const door::Door& d) {
    const mesh::Mesh mesh = sweep::make_mesh(d, coarse(d));
    const heat::ThermalState thermal = bowed(d, mesh, difference);
    analysis::AnalysisCache cache;
    return analysis::ClosedDoorAnalysis(d, mesh, difference == 0.0 ? nullptr : &thermal, d.latches,
                                        cache)
        .solve(analysis::closing_setup(d), {});
  };
  const analysis::ClosedDoorResult a = closed(door);
  const analysis::ClosedDoorResult b = closed(other);
  BOOST_TEST(a.gasket.size() == b.gasket.size());
  Compared c(times);
  c.add("least load", 2, a.gasket_summary.min_load, b.gasket_summary.min_load,
        a.gasket_summary.mean_load);
  c.add("mean load", 2, a.gasket_summary.mean_load, b.gasket_summary.mean_load);
  c.add("most squeeze", 1, a.gasket_summary.max_squeeze, b.gasket_summary.max_squeeze);
  c.add("total", 3, a.gasket_summary.total, b.gasket_summary.total);
  for (std::size_t l = 0; l < a.latches.size(); ++l) {
    c.add("latch", 3, a.latches[l].force, b.latches[l].force, a.gasket_summary.total);
    c.add("hand", 3, a.latches[l].hand, b.latches[l].hand, a.gasket_summary.total);
  }
  c.add("reveal", 1, a.reveal.latch, b.reveal.latch);
  for (std::size_t k = 0; k < a.knuckles.size(); ++k)
    c.add("knuckle", 3, norm(a.knuckles[k].pin_force), norm(b.knuckles[k].pin_force),
          a.gasket_summary.total);
  return c.worst();
}

// Cached substructures are put on a grid of 1.4e-11 m
// (solver/substructuring/condensed_substructure.cpp), 1e-8 of the thinnest part of these doors; a
// factor amplifies that less than a hundredfold.
constexpr double rounding = 1e-6;

} // namespace

BOOST_AUTO_TEST_CASE(a_lid_of_another_size)
{
  door::Door lid = barrel_door();
  lid.hanging = door::HingeEdge::top;
  lid.swing = 0.25 * std::numbers::pi;
  for (const double times : {0.5, 2.0})
    BOOST_TEST(compare_open(lid, times) < rounding);
}

// The rest is the hand that does not grow with its lid: a size of its own, and reported as one.
BOOST_AUTO_TEST_CASE(a_hand_that_does_not_grow)
{
  door::Door lid = barrel_door();
  lid.hanging = door::HingeEdge::top;
  lid.swing = 0.25 * std::numbers::pi;
  lid.panel.outer_skin = lid.panel.inner_skin = 0.0625 * inch;
  door::Door other = scaled(lid, 2.0);
  other.handle.breadth = lid.handle.breadth;
  const double off = compare_open(lid, other, 2.0);
  BOOST_TEST(off > rounding);
  BOOST_TEST(off < 0.01); // far from the hand its effect vanishes (Saint-Venant)
}

BOOST_AUTO_TEST_CASE(a_door_of_another_size_with_a_hand_on_it)
{
  for (door::Door door : {barrel_door(), lug_door(door::PinFixity::fixed)}) {
    door.handle.force = 200.0;
    door.handle.position = 0.5 * door.panel.height;
    BOOST_TEST(compare_open(door, 2.0) < rounding);
  }
}

BOOST_AUTO_TEST_CASE(a_closed_door_of_another_size)
{
  const door::Door door = smoke_door({4.4 * inch, 25.6 * inch});
  for (const double difference : {0.0, 150.0})
    BOOST_TEST(compare_closed(door, 2.0, difference) < rounding);
}

// Positions closer than the snap distance are merged, which once gave a leaf of 3 mm beside a rim
// wall of 3.19 mm the thickness of the wall, and the door dropped by 6.4 % less than beside one of
// 3.21 mm. A wall thicker by 0.02 mm, 0.6 % of itself, may change no more than that.
BOOST_AUTO_TEST_CASE(a_leaf_keeps_its_thickness_beside_a_wall)
{
  const auto drop_with = [](double wall) {
    door::Door door = barrel_door();
    for (auto& hinge : door.hinges)
      hinge.leaf.thickness = 3.0e-3;
    door.rim.wall = wall;
    return analysis::solve_open_door(
               {.door = door, .mesh = sweep::make_mesh(door, door::mesh_density(door, 1))})
        .drop;
  };
  BOOST_TEST(std::abs(drop_with(3.19e-3) / drop_with(3.21e-3) - 1.0) < 0.006);
}
