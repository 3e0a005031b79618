// SPDX-License-Identifier: GPL-3.0-or-later
// The contributions to the drop against the drop itself, and against results that were obtained by
// other methods.
#define BOOST_TEST_MODULE drop_contributions
#include <boost/test/unit_test.hpp>

#include "meshing/door/mesh_density.hpp"
#include "meshing/sweep/door_mesher.hpp"
#include "solver/analysis/open_analysis.hpp"
#include "solver/heat/thermal_state.hpp"
#include "solver/qoi/drop_contributions.hpp"
#include "tests/support/book.hpp"
#include "tests/support/random_doors.hpp"
#include "tests/support/test_doors.hpp"

#include <algorithm>
#include <cmath>
#include <map>

using namespace hangtrue;
using namespace hangtrue::test;

namespace
{

const Source unit_loads{"Shares of the drop",
                        "Unit-load theorem (Timoshenko, Strength of Materials, from memory): "
                        "shares of the parts sum to "
                        "the whole; the same sums by a second solution with every gap closed."};

door::MeshDensity coarse(const door::Door& door)
{
  door::MeshDensity fine = door::mesh_density(door, 1);
  fine.panel_cell = std::max(door.panel.width, door.panel.height) / 3.0;
  fine.hinge_cell = fine.panel_cell;
  fine.around_pin = 12;
  return fine;
}

double sum(const analysis::OpenDoorResult& d, qoi::ContributionSource source)
{
  double all = 0.0;
  for (const auto& s : d.drop_contributions)
    if (s.source == source)
      all += s.value;
  return all;
}

double share(const analysis::OpenDoorResult& d, const std::string& part)
{
  for (const auto& s : d.drop_contributions)
    if (qoi::contribution_label(s) == part)
      return s.value;
  return 0.0;
}

} // namespace

BOOST_AUTO_TEST_CASE(contributions_add_up_to_the_drop)
{
  RandomDoors doors(20261125);
  double worst = 0.0;
  double by_gaps = 0.0; // worst difference from closing all gaps
  for (int i = 0; i < 12; ++i) {
    const door::Door door = doors.next();
    const mesh::Mesh mesh = sweep::make_mesh(door, coarse(door));
    analysis::AnalysisCache cache;
    const analysis::OpenDoorResult d =
        analysis::solve_open_door({.door = door, .mesh = mesh, .cache = &cache});
    const double steel =
        analysis::solve_open_door(
            {.door = door, .mesh = mesh, .cache = &cache, .detail = analysis::ResultDetail::split})
            .elastic_drop;
    const double play = sum(d, qoi::ContributionSource::play);
    const double bending = sum(d, qoi::ContributionSource::bending);
    const double scale = std::abs(play) + std::abs(bending);
    worst = std::max(worst, std::abs(play + bending - d.drop) / scale);
    // The split by closing all gaps is an independent route to the same two sums.
    const double off = std::max(std::abs(bending - steel), std::abs(play - (d.drop - steel)));
    BOOST_TEST(off < 1e-6 * scale, "door " << i);
    by_gaps = std::max(by_gaps, off / scale);
  }
  const std::string closes = "contacts close to a millionth of the gap";
  check_row(unit_loads,
            {"shares-sum", "shares of 12 random doors: worst miss of the drop, of it", ""},
            at_most(1e-6, closes), worst);
  check_row(
      unit_loads,
      {"shares-by-gaps", "the same: play and bending against all gaps closed, of the drop", ""},
      at_most(1e-6, closes), by_gaps);
}

BOOST_AUTO_TEST_CASE(a_hot_door_has_heat_contributions)
{
  const door::Door door = barrel_door();
  const mesh::Mesh mesh = sweep::make_mesh(door, coarse(door));
  heat::ThermalState thermal;
  thermal.state = {heat::ThermalCase::steady};
  for (const auto& n : mesh.door.nodes) // hotter inside and below: it bows and leans
    thermal.temperature.push_back(20.0 + 150.0 * std::max(0.0, 1.0 - n.y / door::depth(door)) +
                                  60.0 * (1.0 - n.z / 0.8));
  thermal.summary.knuckles = 40.0;
  thermal.summary.jamb = 20.0;
  thermal.summary.pins = 30.0;
  analysis::AnalysisCache cache;
  const analysis::OpenDoorResult d =
      analysis::solve_open_door({.door = door, .mesh = mesh, .thermal = &thermal, .cache = &cache});
  const analysis::OpenDoorResult apart =
      analysis::solve_open_door({.door = door,
                                 .mesh = mesh,
                                 .thermal = &thermal,
                                 .cache = &cache,
                                 .detail = analysis::ResultDetail::split});
  const double heat = sum(d, qoi::ContributionSource::heat);
  check_row(unit_loads,
            {"shares-heat", "warm door: heat's share, of the drop with and without", ""},
            near(apart.heat_drop / d.drop, 1e-5, "two solutions; contacts close to a millionth"),
            heat / d.drop);
  BOOST_TEST(std::abs(d.heat_drop - apart.heat_drop) < 1e-6 * std::abs(d.drop));
  BOOST_TEST(std::abs(d.elastic_drop - apart.elastic_drop) < 1e-6 * std::abs(d.drop));
  BOOST_TEST(std::abs(heat) > 0.01 * std::abs(d.drop)); // or the case shows nothing
  BOOST_TEST(std::abs(heat + sum(d, qoi::ContributionSource::play) +
                      sum(d, qoi::ContributionSource::bending) - d.drop) < 1e-6 * std::abs(d.drop));
}

BOOST_AUTO_TEST_CASE(a_contribution_is_what_stiffening_its_part_removes)
{
  // In a linear solution a part's contribution goes as 1 / E: with only the pins ten times as
  // stiff, theirs falls to a tenth, and the others change little (to second order, by the forces
  // they exchange).
  door::Door door = barrel_door();
  const mesh::Mesh mesh = sweep::make_mesh(door, coarse(door));
  const analysis::OpenDoorResult soft = analysis::solve_open_door({.door = door, .mesh = mesh});
  door.pin_steel.youngs_modulus *= 10.0;
  const analysis::OpenDoorResult stiff = analysis::solve_open_door({.door = door, .mesh = mesh});
  check_row(unit_loads, {"shares-pins", "pins ten times as stiff: their share, of before", ""},
            between(0.05, 0.3, "a tenth, and what more of the load a stiffer pin draws"),
            share(stiff, "pins") / share(soft, "pins"));
  BOOST_TEST(share(stiff, "jamb") == share(soft, "jamb"), boost::test_tools::tolerance(0.05));
}

BOOST_AUTO_TEST_CASE(a_rigid_door_has_play_only)
{
  door::Door door = barrel_door();
  stiffen(door, 1e6);
  const analysis::OpenDoorResult d =
      analysis::solve_open_door({.door = door, .mesh = sweep::make_mesh(door, coarse(door))});
  check_row(unit_loads, {"shares-rigid", "rigid door: share of play in the drop", ""},
            near(1.0, 1e-4, "steel a million times as stiff still springs a little"),
            sum(d, qoi::ContributionSource::play) / d.drop);
}

BOOST_AUTO_TEST_CASE(a_loose_skin_adds_up_too)
{
  // Pairs of the skin exist beside those of the hinges, and not all of them are active.
  door::Door door = barrel_door();
  door.inner_hold.kind = door::SkinRelease::floating;
  const analysis::OpenDoorResult d =
      analysis::solve_open_door({.door = door, .mesh = sweep::make_mesh(door, coarse(door))});
  const double all =
      sum(d, qoi::ContributionSource::play) + sum(d, qoi::ContributionSource::bending);
  BOOST_TEST(std::abs(all - d.drop) < 1e-6 * std::abs(d.drop));
}
