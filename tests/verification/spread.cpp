// SPDX-License-Identifier: GPL-3.0-or-later
// Ranges by sensitivities and tolerances against a sample of whole checks, each of a door that lies
// somewhere within the tolerances.
#define BOOST_TEST_MODULE spread
#include <boost/test/unit_test.hpp>

#include "cases/check/check_door.hpp"
#include "cases/check/check_run.hpp"
#include "cases/check/input_uncertainty.hpp"
#include "cases/input/door_file.hpp"
#include "cases/verdict/check_result.hpp"
#include "cases/verdict/quantity_table.hpp"

#include <algorithm>
#include <cmath>
#include <map>
#include <random>
#include <string>

using namespace hangtrue;

namespace
{

// Small, on the coarsest mesh, under measured skins: no time steps.
const std::string little_door = R"([door]
name = "Little door"
width = "12 in"
height = "14 in"
[[hinge]]
at = "3 in"
[[hinge]]
at = "11 in"
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
measured_inner = "300 degF"
measured_outer = "120 degF"
measured_over_rim = "150 degF"
[accuracy]
finest_level = 1
[spread]
clearance = 0.4
gasket_load = 0.2
set_gap = "1/64 in"
draw = "1/128 in"
)";

std::string name(const system::StateId& state, qoi::Quantity quantity)
{
  return system::state_label(state) + ", " + verdict::goal_label(quantity);
}

std::map<std::string, double> answers(const check::CheckRun& run)
{
  std::map<std::string, double> all;
  all[name(run.open_cold.state, qoi::Quantity::drop)] = run.open_cold.drop;
  for (const auto& d : run.open_thermal) {
    all[name(d.state, qoi::Quantity::drop)] = d.drop;
    all[name(d.state, qoi::Quantity::bow)] = d.bow.outer_corners;
  }
  for (const auto& c : run.closed)
    all[name(c.state, qoi::Quantity::least_squeeze)] = c.split.value().whole;
  return all;
}

} // namespace

BOOST_AUTO_TEST_CASE(a_sample_of_whole_checks_lies_in_the_ranges)
{
  const input::DoorCase door_case = input::read_door_text(little_door, "little.toml");
  check::CheckRun run = check::check_door(door_case, {});
  check::add_input_uncertainty(door_case, {}, run);
  const check::UncertaintyResult& s = run.uncertainty;
  BOOST_REQUIRE(s.intervals.size() == 5U); // two drops, a bow, two squeezes
  constexpr int samples = 4;               // some twenty seconds each
  std::mt19937 random(5);
  std::map<std::string, double> squares;
  for (int i = 0; i < samples; ++i) {
    input::DoorCase other = door_case;
    for (const auto& input : s.inputs)
      for (const auto& band : s.tolerances)
        if (band.key == input.key) {
          const double share = 2.0 * static_cast<double>(random()) / 4294967295.0 - 1.0;
          input.apply(other.door, share * band.half);
        }
    const auto found = answers(check::check_door(other, {}));
    for (const auto& range : s.intervals) {
      const double off = found.at(name(range.id.state, range.id.quantity)) - range.found;
      squares[name(range.id.state, range.id.quantity)] += off * off / samples;
      // Never farther than all in the worst direction at once; a tenth for curvature, such as kinks
      // of the gasket's curve and pairs that become active, and a thousandth of an inch for what
      // contact leaves open.
      BOOST_TEST(std::abs(off) < 1.1 * range.worst_case + 2.5e-5,
                 name(range.id.state, range.id.quantity)
                     << ": off by " << off << ", at most " << range.worst_case << ", likely "
                     << range.rss);
    }
  }
  // Uniform distributions over tolerances scatter by root sum of squares / sqrt(3); of four samples
  // the scatter comes out within 0.27 to 1.82 of that in 98 of 100 cases (chi-square, 4 degrees:
  // 0.297 and 13.28).
  for (const auto& range : s.intervals) {
    const double scatter = std::sqrt(squares.at(name(range.id.state, range.id.quantity)));
    const double ratio = scatter / (range.rss / std::sqrt(3.0));
    BOOST_TEST_MESSAGE(name(range.id.state, range.id.quantity)
                       << ": found " << range.found << ", likely " << range.rss << ", at most "
                       << range.worst_case << ", scatter over expected " << ratio);
    BOOST_TEST(ratio > 0.27, name(range.id.state, range.id.quantity));
    BOOST_TEST(ratio < 1.82, name(range.id.state, range.id.quantity));
  }
}

BOOST_AUTO_TEST_CASE(a_range_across_the_limit_is_close_and_a_failure_stays)
{
  input::DoorCase door_case =
      input::read_door_text(little_door.substr(0, little_door.find("[gasket]")) +
                                "[accuracy]\nfinest_level = 1\ntolerance = 0.5\n"
                                "[spread]\nclearance = 0.5\n",
                            "little.toml");
  const double drop = check::check_door(door_case, {}).open_cold.drop;
  auto verdict_at = [&](double limit) {
    door_case.limits.drop.value = limit;
    check::CheckRun run = check::check_door(door_case, {});
    // One level alone gives no discretization error: the whole drop is taken. Without it:
    verdict::find_quantity(run.quantities, {{}, qoi::Quantity::drop})->error.reset();
    check::add_input_uncertainty(door_case, {}, run);
    const auto found = std::find_if(run.checks.begin(), run.checks.end(), [](const auto& check) {
      return check.id.quantity == qoi::Quantity::drop;
    });
    BOOST_REQUIRE((found != run.checks.end()));
    BOOST_REQUIRE(found->likely_range.has_value());
    BOOST_TEST(found->likely_range->second > 1.2 * drop); // half of the play is a fifth at least
    return found->verdict;
  };
  BOOST_TEST((verdict_at(1.2 * drop) == verdict::Verdict::close));
  BOOST_TEST((verdict_at(3.0 * drop) == verdict::Verdict::holds));
  BOOST_TEST((verdict_at(0.9 * drop) == verdict::Verdict::fails));
}
