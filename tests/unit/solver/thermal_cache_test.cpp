// SPDX-License-Identifier: GPL-3.0-or-later
// A door of another hinge in the same fire: its heat and its panel are found in the cache, and its
// results are those of a check of its own, to the last bit.
#define BOOST_TEST_MODULE thermal_cache
#include <boost/test/unit_test.hpp>

#include "cases/check/check_door.hpp"
#include "cases/check/check_run.hpp"
#include "cases/input/door_file.hpp"
#include "cases/output/results_json.hpp"
#include "meshing/door/mesh_density.hpp"
#include "meshing/sweep/door_mesher.hpp"
#include "solver/firing/thermal_cache.hpp"
#include "solver/substructuring/condensed_substructure.hpp"
#include "tests/support/test_doors.hpp"

#include <algorithm>
#include <cmath>
#include <string>

using namespace hangtrue;
using namespace hangtrue::test;

namespace
{

const std::string fired_door = R"([door]
name = "Little door"
width = "12 in"
height = "14 in"
[[hinge]]
at = "7 in"
[gasket]
kind = "tadpole"
height = "3/4 in"
[[latch]]
at = "4 in"
draw = "1/32 in"
[[latch]]
at = "10 in"
draw = "1/32 in"
[fire]
schedule = [["0 min", "70 degF"], ["20 min", "400 degF"]]
[accuracy]
tolerance = 0.5
finest_level = 2
)";

std::ptrdiff_t carriers(const analysis::AnalysisCache& cache)
{
  const auto parts = cache.factors.substructures.values();
  return std::count_if(parts.begin(), parts.end(),
                       [](const auto& part) { return !part->content().is_hinge_substructure; });
}

door::Door in_fire()
{
  door::Door door = barrel_door();
  door.fire.schedule = {{0.0, 20.0}, {1200.0, 300.0}};
  return door;
}

} // namespace

BOOST_AUTO_TEST_CASE(another_hinge_is_solved_with_the_cached_heat_of_the_first)
{
  const input::DoorCase first = input::read_door_text(fired_door, "little.toml");
  input::DoorCase other = first;
  for (auto& hinge : other.door.hinges) {
    hinge.clearance *= 1.5;
    hinge.pin_diameter *= 0.9;
    hinge.end_float *= 0.5;
  }
  for (auto& latch : other.door.latches)
    latch.draw *= 0.5;
  analysis::AnalysisCache cache;
  check::check_door(first, {}, &cache);
  const auto panels = carriers(cache);
  const auto heats = cache.thermal.heats.values();
  const check::CheckRun after = check::check_door(other, {}, &cache);
  // The pin is a body of one substructure: at most one in each of three states on two levels.
  BOOST_TEST(carriers(cache) - panels <= 6);
  const auto after_heats = cache.thermal.heats.values();
  BOOST_TEST(
      std::is_permutation(heats.begin(), heats.end(), after_heats.begin(), after_heats.end()));
  analysis::AnalysisCache own;
  const check::CheckRun alone = check::check_door(other, {}, &own);
  BOOST_REQUIRE(alone.open_thermal.size() == 2U);
  BOOST_REQUIRE(alone.closed.size() >= 4U);
  BOOST_TEST((output::results_json(other, after) == output::results_json(other, alone)));
}

BOOST_AUTO_TEST_CASE(cached_heat_is_reused_where_nothing_that_it_depends_on_changed)
{
  firing::ThermalCache cache;
  const door::RefinementLevel level{1, 1};
  const auto heat_in = [&](const door::Door& door) {
    return firing::cached_heat_of(
        door, sweep::make_mesh(door, door::mesh_density(door, level)).door, level, cache);
  };
  const door::Door door = in_fire();
  const auto first = heat_in(door);
  door::Door other = door;
  other.swing = 0.3;
  other.handle = {300.0, 0.2};
  for (auto& hinge : other.hinges) {
    hinge.clearance *= 2.0;
    hinge.pin_diameter *= 0.8;
  }
  BOOST_TEST(heat_in(other) == first);
  door::Door hotter = door;
  hotter.fire.schedule.back().gas += 1.0;
  BOOST_TEST(heat_in(hotter) != first);
  door::Door wider = door;
  wider.hinges.front().leaf.width *= 1.1;
  BOOST_TEST(heat_in(wider) != first);
}

// The slots round the closed door, what lies behind them and the air outside change temperatures.
BOOST_AUTO_TEST_CASE(heat_is_solved_anew_where_a_slot_or_the_frame_changed)
{
  firing::ThermalCache cache;
  const door::RefinementLevel level{1, 1};
  const auto heat_in = [&](const door::Door& door) {
    return firing::cached_heat_of(
        door, sweep::make_mesh(door, door::mesh_density(door, level)).door, level, cache);
  };
  const door::Door door = input::read_door_text(fired_door, "little.toml").door;
  const auto first = heat_in(door);
  const auto changed = [&](auto&& change) {
    door::Door other = door;
    change(other);
    return heat_in(other) != first;
  };
  BOOST_TEST(changed([](door::Door& d) { d.gasket.set_gap += 0.001; }));
  BOOST_TEST(changed([](door::Door& d) { d.opening.latch += 0.001; }));
  BOOST_TEST(heat_in(door) == first); // three are cached
  BOOST_TEST(changed([](door::Door& d) { d.jamb.hot = 100.0; }));
  BOOST_TEST(heat_in(door) == first);
  BOOST_TEST(changed([](door::Door& d) { d.fire.frame = 100.0; }));
  BOOST_TEST(changed([](door::Door& d) { d.fire.outside_film = 2.0; }));
  BOOST_TEST(heat_in(door) == first);
  BOOST_TEST(!changed([](door::Door& d) { d.gasket.sealing *= 2.0; }));
  BOOST_TEST(!changed([](door::Door& d) { d.opening.warp = 0.001; }));
  BOOST_TEST(!changed([](door::Door& d) { d.latches.front().draw *= 2.0; }));
}

// In the heat problem a bore is two thirds of its knuckle and adiabatic. The effect of another bore
// is small against the uncertainty of the film of a fire, a tenth, and a tenth of 280 K.
BOOST_AUTO_TEST_CASE(the_size_of_a_bore_hardly_changes_a_temperature)
{
  firing::ThermalCache cache;
  const door::RefinementLevel level{1, 1};
  door::Door door = in_fire();
  for (auto& hinge : door.hinges)
    hinge.pin_diameter = 0.5 * hinge.outside_diameter;
  const mesh::BodyMesh body = sweep::make_mesh(door, door::mesh_density(door, level)).door;
  const auto heat = firing::cached_heat_of(door, body, level, cache);
  const auto& steady = firing::cached_heating(*heat).history.steady.value;
  const auto true_bore = firing::heat_up(door, body, {}).history.steady.value;
  BOOST_REQUIRE(steady.size() == true_bore.size());
  const auto maximum = [&](auto&& counts) {
    double found = 0.0;
    for (const auto& cell : body.cells)
      for (const int n : cell.node)
        if (counts(cell))
          found = std::max(found, std::abs(steady[n] - true_bore[n]));
    return found;
  };
  const double panel = maximum([](const mesh::Hex27& cell) { return cell.hinge < 0; });
  const double all = maximum([](const mesh::Hex27&) { return true; });
  BOOST_TEST_MESSAGE("panel " << panel << " K, all " << all << " K");
  BOOST_TEST(panel < 0.5);
  BOOST_TEST(all < 4.0);
  BOOST_TEST(all > 0.0); // it is another bore
}
