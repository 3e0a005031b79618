// SPDX-License-Identifier: GPL-3.0-or-later
// Fields of skins between rim, stiffeners and cut, and where the theory of their buckling ends.
#define BOOST_TEST_MODULE skin_buckling_test
#include <boost/test/unit_test.hpp>

#include "solver/analysis/skin_study.hpp"
#include "solver/strength/plate_stress_average.hpp"
#include "solver/strength/skin_buckling.hpp"
#include "tests/support/test_doors.hpp"

#include <cmath>
#include <cstddef>
#include <numbers>
#include <vector>

using namespace hangtrue;
using namespace hangtrue::test;

namespace
{

// Columns of half an inch over both skins, compressed by `stress`, Pa, in both directions.
std::vector<strength::PlateSample> even_columns(const door::Door& door, double stress,
                                                double temperature)
{
  std::vector<strength::PlateSample> columns;
  const double h = 0.5 * inch;
  for (const mesh::Part skin : {mesh::Part::inner_skin, mesh::Part::outer_skin})
    for (double z = 0.0; z < door.panel.height - 0.1 * h; z += h)
      for (double x = 0.0; x < door.panel.width - 0.1 * h; x += h) {
        strength::PlateSample column;
        column.part = skin;
        column.thickness = door.panel.inner_skin;
        column.low = {z, x};
        column.high = {z + h, x + h};
        column.middle = {x + 0.5 * h, 0.0, z + 0.5 * h};
        column.volume = h * h * column.thickness;
        column.temperature = temperature;
        column.mean[0][0] = -stress;
        column.mean[2][2] = -stress;
        columns.push_back(column);
      }
  return columns;
}

door::Door stiffened()
{
  door::Door door = barrel_door();
  door.stiffeners = {
      {door::StiffenerShape::flat_bar, door::StiffenerRun::along, 12.0 * inch, 1.0 * inch, 0.0}};
  return door;
}

} // namespace

// Rim 1-1/2 in; a bar from 11-1/2 to 12-1/2 in: fields 10 and 16 in wide, 27 in high.
BOOST_AUTO_TEST_CASE(fields_between_stiffeners)
{
  const door::Door door = stiffened();
  const auto fields =
      strength::skin_fields(door, mesh::Part::outer_skin, even_columns(door, 1e6, 20.0));
  BOOST_REQUIRE(fields.size() == 2U);
  const double widths[] = {10.0 * inch, 16.0 * inch};
  for (std::size_t i = 0; i < 2; ++i) {
    BOOST_TEST(std::abs(fields[i].plate.x.back() - fields[i].plate.x.front() - widths[i]) < 1e-9);
    BOOST_TEST(std::abs(fields[i].plate.z.back() - fields[i].plate.z.front() - 27.0 * inch) < 1e-9);
    BOOST_TEST(!fields[i].free_low);
    BOOST_TEST(!fields[i].free_high);
  }
}

// The wider field buckles first, by the closed form 1 / (pi^2 D / N (1/a^2 + 1/b^2)); at 300 degC
// steel keeps 0.8 of its modulus (EN 1993-1-2 Table 3.1).
BOOST_AUTO_TEST_CASE(the_widest_field_at_temperature)
{
  const door::Door door = stiffened();
  const double a = 16.0 * inch;
  const double b = 27.0 * inch;
  const double t = door.panel.inner_skin;
  const double stiffness = 0.8 * door.steel.youngs_modulus * t * t * t / (12.0 * 0.91);
  const double by_hand =
      1e7 * t / (std::pow(std::numbers::pi, 2.0) * stiffness * (1.0 / (a * a) + 1.0 / (b * b)));
  for (const auto& skin : strength::skin_buckling(door, even_columns(door, 1e7, 300.0))) {
    BOOST_TEST(skin.no_verdict.empty());
    BOOST_TEST(skin.supported.utilisation == by_hand, boost::test_tools::tolerance(1e-3));
    BOOST_TEST(skin.clamped.utilisation < 0.5 * by_hand);
    BOOST_TEST(skin.supported.stress == 1e7, boost::test_tools::tolerance(1e-9));
    BOOST_TEST(std::abs(skin.supported.crest.x - 20.5 * inch) < 0.02 * a);
    BOOST_TEST(skin.supported.waves_across == 1);
    BOOST_TEST(skin.supported.waves_along == 1);
  }
}

// A cut in a field leaves both its edges free, and the skin there buckles sooner; the outer skin
// has no cut.
BOOST_AUTO_TEST_CASE(a_cut_frees_its_edges)
{
  door::Door door = stiffened();
  const auto columns = even_columns(door, 1e7, 20.0);
  const double whole = strength::skin_buckling(door, columns).front().supported.utilisation;
  door.inner_hold.kind = door::SkinRelease::split;
  door.inner_hold.split_at = 20.0 * inch;
  const auto fields = strength::skin_fields(door, mesh::Part::inner_skin, columns);
  BOOST_REQUIRE(fields.size() == 3U);
  BOOST_TEST(!fields[1].free_low);
  BOOST_TEST(fields[1].free_high);
  BOOST_TEST(fields[2].free_low);
  BOOST_TEST(!fields[2].free_high);
  BOOST_TEST(strength::skin_fields(door, mesh::Part::outer_skin, columns).size() == 2U);
  const auto skins = strength::skin_buckling(door, columns);
  BOOST_TEST(skins.front().supported.utilisation > whole);
  BOOST_TEST(std::abs(skins.front().supported.crest.x - 20.0 * inch) < 0.5 * inch);
  BOOST_TEST(skins.back().supported.utilisation == whole, boost::test_tools::tolerance(1e-6));
  door.inner_hold.split_at = 12.0 * inch; // over the bar: welded at both sides of it
  BOOST_TEST(strength::skin_buckling(door, columns).front().supported.utilisation == whole,
             boost::test_tools::tolerance(1e-6));
}

// Outside the theory there is no number: a skin that is loose on one side, or on a soft strip.
BOOST_AUTO_TEST_CASE(no_verdict_outside_the_theory)
{
  for (const door::SkinRelease kind : {door::SkinRelease::floating, door::SkinRelease::stitched}) {
    door::Door door = stiffened();
    door.inner_hold.kind = kind;
    const auto skins = strength::skin_buckling(door, even_columns(door, 1e7, 20.0));
    BOOST_TEST(!skins.front().no_verdict.empty());
    BOOST_TEST(skins.front().supported.utilisation == 0.0);
    BOOST_TEST(skins.back().no_verdict.empty());
    BOOST_TEST(skins.back().supported.utilisation > 0.0);
  }
  door::Door door = stiffened();
  door.strip.thickness = 0.25 * inch;
  const auto columns = even_columns(door, 1e7, 20.0);
  BOOST_TEST(strength::skin_buckling(door, columns).front().no_verdict.empty()); // board, 2 GPa
  door.strip.youngs_modulus = 2e5;                                               // wool
  BOOST_TEST(!strength::skin_buckling(door, columns).front().no_verdict.empty());
}

BOOST_AUTO_TEST_CASE(a_skin_in_tension_never_buckles)
{
  const door::Door door = stiffened();
  for (const auto& skin : strength::skin_buckling(door, even_columns(door, -1e7, 20.0))) {
    BOOST_TEST(skin.no_verdict.empty());
    BOOST_TEST(skin.supported.utilisation == 0.0);
    BOOST_TEST(skin.clamped.utilisation == 0.0);
  }
}

// A real hot panel: its middle is compressed more than its edges, both bounds are apart as they
// must be, and the next mesh changes them by little.
BOOST_AUTO_TEST_CASE(a_hot_panel_on_two_meshes)
{
  door::Door door = barrel_door();
  door.fire.schedule = {{0.0, 20.0}, {1800.0, 205.0}};
  const auto coarse = analysis::hot_panel(door, 1).buckling;
  const auto fine = analysis::hot_panel(door, 2).buckling;
  BOOST_REQUIRE(fine.size() == 2U);
  BOOST_TEST_MESSAGE("supported " << coarse.front().supported.utilisation << " and "
                                  << fine.front().supported.utilisation << ", clamped "
                                  << coarse.front().clamped.utilisation << " and "
                                  << fine.front().clamped.utilisation);
  BOOST_TEST(fine.front().supported.utilisation > 1.5 * fine.front().clamped.utilisation);
  BOOST_TEST(fine.front().supported.utilisation == coarse.front().supported.utilisation,
             boost::test_tools::tolerance(0.03));
  BOOST_TEST(fine.front().clamped.utilisation == coarse.front().clamped.utilisation,
             boost::test_tools::tolerance(0.03));
}
