// SPDX-License-Identifier: GPL-3.0-or-later
#include "cases/output/terminal_report.hpp"

#include "cases/check/input_uncertainty.hpp"
#include "cases/check/refinement_strategy.hpp"
#include "cases/input/units.hpp"
#include "cases/output/contribution_text.hpp"
#include "cases/output/end_float_text.hpp"
#include "cases/output/error_text.hpp"
#include "cases/output/uncertainty_text.hpp"
#include "cases/verdict/check_result.hpp"
#include "cases/verdict/quantity_table.hpp"
#include "solver/analysis/closed_result.hpp"
#include "solver/elasticity/nodal_loads.hpp"
#include "solver/heat/thermal_state.hpp"
#include "solver/qoi/contribution.hpp"
#include "solver/qoi/straightedge_readings.hpp"
#include "solver/strength/hinge_forces.hpp"
#include "solver/system/equilibrium_check.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <optional>
#include <sstream>

namespace hangtrue::output
{

namespace
{

// A sentence below a check, broken at blanks so that no line is wider than 100 columns.
std::string wrapped(const std::string& words)
{
  constexpr std::size_t widest = 100;
  const std::string indent(10, ' ');
  std::string text;
  std::string line = indent;
  std::istringstream all(words);
  for (std::string word; all >> word;) {
    if (line.size() > indent.size() && line.size() + 1 + word.size() > widest) {
      text += line + "\n";
      line = indent + "  ";
    }
    line += (line.size() > indent.size() && line.back() != ' ' ? " " : "") + word;
  }
  return text + line + "\n";
}

std::string length(double m, input::UnitSystem units)
{
  return input::format_quantity(m, input::Dimension::length, units);
}

// Of the door itself, as on a tape.
std::string size(double m, input::UnitSystem units)
{
  return units == input::UnitSystem::us ? input::tape_fraction(m) + " in"
                                        : fmt::format("{:.0f} mm", 1e3 * m);
}

std::string heading(const input::DoorCase& c, const check::CheckRun& run)
{
  const analysis::OpenDoorResult& d = run.open_cold;
  std::string text = fmt::format("{}", c.door.name);
  if (!c.door.shop.empty())
    text += ", " + c.door.shop;
  text += fmt::format("\n{} wide, {} high, {}, swing {}\n\n", size(c.door.panel.width, c.units),
                      size(c.door.panel.height, c.units), system::state_label(d.state),
                      input::format_short(c.door.swing, input::Dimension::angle, c.units));
  text += fmt::format("Weight             {}\n",
                      input::format_short(d.weight, input::Dimension::force, c.units));
  text +=
      fmt::format("Centre of gravity  {} from the hinge edge, {} up, {} from the fire face\n",
                  input::format_short(d.centre_of_gravity.x, input::Dimension::length, c.units),
                  input::format_short(d.centre_of_gravity.z, input::Dimension::length, c.units),
                  input::format_short(d.centre_of_gravity.y, input::Dimension::length, c.units));
  text += fmt::format("Couple on hinges   {} at top and bottom (weight x arm / spacing)\n",
                      input::format_short(d.couple, input::Dimension::force, c.units));
  return text;
}

std::string movements(const input::DoorCase& c, const check::CheckRun& run)
{
  const analysis::OpenDoorResult& d = run.open_cold;
  const double drop_error = verdict::error_of(run.quantities, {d.state, qoi::Quantity::drop});
  std::string text =
      "\nMovement of the outer corners (+ is down, away from the hinges, outwards)\n";
  text += fmt::format("  {:<14}{:>24}{:>24}{:>24}\n", "corner", "drop", "lean", "set-back");
  const Vec3 down = elasticity::gravity_direction(c.door);
  for (const auto& corner : d.corners)
    text += fmt::format("  {:<14}{:>24}{:>24}{:>24}\n", qoi::corner_label(corner.corner),
                        length(dot(down, corner.move), c.units), length(corner.move.x, c.units),
                        length(corner.move.y, c.units));
  text += fmt::format(
      "Drop of the latch corner {} +- {}: {} play in the bores, {} steel\n",
      length(d.drop, c.units), input::format_short(drop_error, input::Dimension::length, c.units),
      input::format_short(d.drop - d.elastic_drop, input::Dimension::length, c.units),
      input::format_short(d.elastic_drop, input::Dimension::length, c.units));
  text += fmt::format("Upper latch corner leans out {}, set back {} against the lower\n",
                      length(d.lean, c.units), length(d.set_back, c.units));
  return text;
}

// What makes the corner drop, the greatest first.
std::string shares(const input::DoorCase& c, const analysis::OpenDoorResult& d)
{
  std::vector<qoi::Contribution> sorted = d.drop_contributions;
  std::stable_sort(sorted.begin(), sorted.end(),
                   [](const qoi::Contribution& a, const qoi::Contribution& b) {
                     return std::abs(a.value) > std::abs(b.value);
                   });
  std::string text = "What makes it drop\n";
  double small = 0.0;
  for (const auto& s : sorted) {
    if (std::abs(s.value) < 0.001 * std::abs(d.drop)) {
      small += s.value;
      continue;
    }
    text += fmt::format("  {:<30}{:>14}{:>8.1f} %\n", qoi::contribution_label(s),
                        input::format_short(s.value, input::Dimension::length, c.units),
                        100.0 * s.value / d.drop);
  }
  return text + fmt::format("  {:<30}{:>14}{:>8.1f} %\n", "all the rest",
                            input::format_short(small, input::Dimension::length, c.units),
                            100.0 * small / d.drop);
}

std::string hinges(const input::DoorCase& c, const analysis::OpenDoorResult& d)
{
  std::string text = "\nHinges (hinge 1 is the first in the file, knuckles from below)\n";
  text += fmt::format("  {:<8}{:<9}{:<8}{:>16}{:>16}{:>16}\n", "hinge", "knuckle", "owner",
                      "from pin", "along pin", "bearing");
  for (const auto& k : d.knuckles)
    text += fmt::format("  {:<8}{:<9}{:<8}{:>16}{:>16}{:>16}\n", k.hinge + 1, k.knuckle + 1,
                        k.owner == door::KnuckleOwner::door ? "door" : "frame",
                        input::format_short(norm(k.pin_force), input::Dimension::force, c.units),
                        input::format_short(k.thrust, input::Dimension::force, c.units),
                        input::format_short(k.bearing, input::Dimension::stress, c.units));
  for (const auto& p : d.pins)
    text += fmt::format("  pin {}: moment {}, shear {}, tilt {:.3f} deg\n", p.hinge + 1,
                        input::format_short(p.greatest_bending, input::Dimension::moment, c.units),
                        input::format_short(p.greatest_shear, input::Dimension::force, c.units),
                        input::unit::degrees(p.tilt));
  return text;
}

// Drop by the year, for the low, usual and high wear coefficient.
std::string over_the_years(const input::DoorCase& c, const analysis::WearCurve& wear)
{
  std::string text = fmt::format("\nOver the years ({:g} swings a day, {})\n", c.use.swings_per_day,
                                 c.use.greased ? "greased" : "dry");
  text += fmt::format("  {:<8}{:>16}{:>16}{:>16}\n", "years", "little wear", "usual", "much wear");
  for (std::size_t y = 0; y < wear.years.size(); y += 2) {
    const analysis::WearYear& w = wear.years[y];
    text += fmt::format("  {:<8.3g}{:>16}{:>16}{:>16}\n", w.year,
                        input::format_short(w.low, input::Dimension::length, c.units),
                        input::format_short(w.usual, input::Dimension::length, c.units),
                        input::format_short(w.high, input::Dimension::length, c.units));
  }
  return text +
         fmt::format("  bore and pin worn {} deep where it is worst{}\n",
                     input::format_short(wear.depth, input::Dimension::length, c.units),
                     wear.worn_through ? "; with much wear a tenth of the pin is gone before" : "");
}

// A thermal state in short: temperatures, bow as a straightedge reads it, drop.
std::string warm_state(const input::DoorCase& c, const check::CheckRun& run,
                       const analysis::OpenDoorResult& d)
{
  const auto degrees = [&](double t) {
    return input::format_short(t, input::Dimension::temperature, c.units);
  };
  const heat::TemperatureSummary& w = d.temperatures;
  const qoi::BowReadings& b = d.bow;
  const auto read = [&](double value, qoi::Quantity quantity) {
    return length(value, c.units) + plus_minus(run, {d.state, quantity}, c.units);
  };
  std::string text = fmt::format("\n{} (gas {})\n", system::state_label(d.state), degrees(w.gas));
  text += fmt::format(
      "  skins {} inside, {} outside on average; outside {} in the middle, {} at most\n",
      degrees(w.inner_skin), degrees(w.outer_skin), degrees(w.outside_middle),
      degrees(w.outside_hottest));
  text += fmt::format("  straightedge, middle outwards of the ends (- is towards the fire):\n");
  text += fmt::format("    outer skin  across {}, along {}, diagonal {}\n",
                      read(b.outer_across, qoi::Quantity::outer_across),
                      read(b.outer_along, qoi::Quantity::outer_along),
                      read(b.outer_diagonal, qoi::Quantity::outer_diagonal));
  text += fmt::format("    inner skin  across {}, along {}, diagonal {}\n",
                      read(b.inner_across, qoi::Quantity::inner_across),
                      read(b.inner_along, qoi::Quantity::inner_along),
                      read(b.inner_diagonal, qoi::Quantity::inner_diagonal));
  text += fmt::format("  middle against corners {}; by hand from the skins' means {}\n",
                      read(std::abs(b.outer_corners), qoi::Quantity::bow),
                      length(w.estimated_bow, c.units));
  if (const qoi::ContributionSplit* split = qoi::find_split(d.splits, qoi::Quantity::bow))
    text += fmt::format("    from: {}\n", contributions_line(*split, c.units));
  text += fmt::format("  grown {} in width, {} in height; drop {}, of it heat {}\n",
                      read(b.width_growth, qoi::Quantity::width_growth),
                      read(b.height_growth, qoi::Quantity::height_growth),
                      read(d.drop, qoi::Quantity::drop), length(d.heat_drop, c.units));
  text += fmt::format("  rim {}, knuckles {}, pins {}, jamb {}, frame face {}\n", degrees(w.rim),
                      degrees(w.knuckles), degrees(w.pins), degrees(w.jamb), degrees(w.frame_face));
  text += fmt::format("  energy balance to {:.0e} of the throughput\n", w.energy_error);
  return text;
}

// Forces at the hinges of the closed door: the knuckle with the greatest contact force, the
// greatest thrust and every pin.
std::string closed_hinges(const input::DoorCase& c, const check::CheckRun& run,
                          const analysis::ClosedDoorResult& d)
{
  if (d.knuckles.empty())
    return "";
  const auto force = [&](double v) {
    return input::format_short(v, input::Dimension::force, c.units);
  };
  const auto named = [](const strength::KnuckleForce& k) {
    return fmt::format("hinge {}, knuckle {} from below", k.hinge + 1, k.knuckle + 1);
  };
  const auto [least, most] =
      std::minmax_element(d.knuckles.begin(), d.knuckles.end(),
                          [](const strength::KnuckleForce& a, const strength::KnuckleForce& b) {
                            return norm(a.pin_force) < norm(b.pin_force);
                          });
  const auto& thrust =
      *std::max_element(d.knuckles.begin(), d.knuckles.end(),
                        [](const strength::KnuckleForce& a, const strength::KnuckleForce& b) {
                          return std::abs(a.thrust) < std::abs(b.thrust);
                        });
  std::string text =
      fmt::format("  pins press knuckles with {} to {} ({}), along the pin {} at most ({})\n",
                  force(norm(least->pin_force)),
                  force(norm(most->pin_force)) +
                      plus_minus(run, {d.state, qoi::Quantity::knuckle_force}, c.units),
                  named(*most), force(std::abs(thrust.thrust)), named(thrust));
  for (const auto& p : d.pins)
    text += fmt::format("  pin {}: moment {}, shear {}\n", p.hinge + 1,
                        input::format_short(p.greatest_bending, input::Dimension::moment, c.units),
                        force(p.greatest_shear));
  return text;
}

// How much of the gasket's line seals.
std::string sealing(const analysis::GasketSummary& s, input::UnitSystem units)
{
  const std::string line = input::format_short(s.length, input::Dimension::length, units);
  if (s.below_sealing == 0.0 && s.crushed == 0.0 && s.open_length == 0.0)
    return fmt::format("  all {} of its line seal, none is crushed\n", line);
  return fmt::format(
      "  of its {} {:.0f} % press too little to seal, {:.0f} % are crushed, {} gape\n", line,
      100.0 * s.below_sealing, 100.0 * s.crushed,
      input::format_short(s.open_length, input::Dimension::length, units));
}

// A closed state in short: what the customer notices first.
std::string closed_state(const input::DoorCase& c, const check::CheckRun& run,
                         const analysis::ClosedDoorResult& d)
{
  const auto load = [&](double v) {
    return input::format_short(v, input::Dimension::force_per_length, c.units);
  };
  const auto force = [&](double v) {
    return input::format_short(v, input::Dimension::force, c.units);
  };
  const analysis::GasketSummary& s = d.gasket_summary;
  const analysis::ClosedDoorResult& cold = run.closed.front();
  const auto error = [&](qoi::Quantity quantity, int index = 0) {
    return plus_minus(run, {d.state, quantity, index}, c.units);
  };
  std::string text = fmt::format("\n{}\n", system::state_label(d.state));
  text += fmt::format("  gasket {} least, {} mean; squeeze {} at most; total force {}\n",
                      load(s.min_load) + error(qoi::Quantity::gasket_load),
                      load(s.mean_load) + error(qoi::Quantity::mean_gasket_load),
                      length(s.max_squeeze, c.units) + error(qoi::Quantity::gasket_squeeze),
                      force(s.total));
  text += sealing(s, c.units);
  if (d.split)
    text += fmt::format("  least squeeze {} from: {}\n", length(d.split->whole, c.units),
                        contributions_line(*d.split, c.units));
  for (std::size_t l = 0; l < d.latches.size(); ++l) {
    const analysis::LatchResult& latch = d.latches[l];
    const double more = latch.force - cold.latches[l].force;
    text += fmt::format("  latch {}: {} on the door, {} by hand", latch.latch + 1,
                        force(latch.force) + error(qoi::Quantity::latch_force, latch.latch),
                        force(latch.hand));
    if (&d != &cold)
      text += fmt::format(", {} {} than cold", force(std::abs(more)),
                          more > 0.0 ? "tighter" : "slacker");
    if (latch.slack > 0.0)
      text += ", slack by " + length(latch.slack, c.units);
    text += "\n";
  }
  text += fmt::format("  reveal left: hinge {}, latch {}, lower {}, upper {}\n",
                      length(d.reveal.hinge, c.units), length(d.reveal.latch, c.units),
                      length(d.reveal.lower, c.units), length(d.reveal.upper, c.units));
  text += closed_hinges(c, run, d);
  if (d.stop_force > 0.0)
    text += fmt::format("  steel meets the frame face at {} places with {}\n", d.stops.size(),
                        force(d.stop_force));
  text += fmt::format("  equilibrium to {:.0e}, penetration {:.0e} m\n",
                      std::max(d.balance.force_error, d.balance.moment_error),
                      std::abs(d.balance.min_gap));
  return text;
}

std::string checks(const input::DoorCase& c, const check::CheckRun& run)
{
  std::string text = "\nChecks (+- is the error from the mesh)\n";
  text += fmt::format("  {:<8}{:<31}{:>14}{:>13}{:>14}{:>8}\n", "verdict", "check", "found", "+-",
                      "limit", "use");
  std::optional<system::StateId> state;
  for (const auto& check : run.checks) {
    const qoi::Quantity quantity = check.id.quantity;
    if (check.id.state != state && (!run.open_thermal.empty() || !run.closed.empty()))
      text += fmt::format("  -- {} --\n", system::state_label(check.id.state));
    state = check.id.state;
    const auto error = verdict::total_error(check);
    text += fmt::format(
        "  {:<8}{:<31}{:>14}{:>13}{:>14}{:>6.0f} %\n", verdict::verdict_text(check.verdict),
        verdict::quantity_label(c, check.id), verdict::value_text(quantity, check.found, c.units),
        error ? error_text(*error, quantity, c.units) : "?",
        verdict::value_text(quantity, check.limit, c.units), 100.0 * check.utilisation);
    text += wrapped(check.reason) + wrapped("limit: " + check.limit_origin);
  }
  return text;
}

std::string trust(const input::DoorCase& c, const check::CheckRun& run)
{
  const system::EquilibriumCheck& b = run.open_cold.balance;
  std::string text = fmt::format(
      "\nEquilibrium: forces to {:.0e}, moments to {:.0e}, jamb reactions to {:.0e} of the "
      "weight\n",
      b.force_error, b.moment_error, b.reaction_error);
  text += fmt::format("Mesh: level {}, {} cells, {} unknowns, {} active contacts{}\n",
                      check::level_text(run.steps.back().level), run.quality.cells,
                      run.open_cold.unknowns, run.open_cold.contacts,
                      run.reached ? "" : "; requested accuracy NOT reached");
  for (const auto& sentence : error_sentences(c, run))
    text += sentence + "\n";
  return text;
}

constexpr const char* cautions =
    "\nA door being hung can drop and crush: keep it on a hoist or blocks until every weld is done "
    "and\ncool, nobody under it. Hot surfaces; zinc fumes from galvanised steel; dust of ceramic "
    "fibre;\nflare-up when a fired chamber is opened. Welds by qualified welders. Local codes and "
    "a "
    "licensed\nengineer decide; this tool informs.\n";

} // namespace

std::string terminal_report(const input::DoorCase& door_case, const check::CheckRun& run)
{
  std::string text = heading(door_case, run);
  text += movements(door_case, run);
  if (!run.open_cold.drop_contributions.empty())
    text += shares(door_case, run.open_cold);
  text += hinges(door_case, run.open_cold);
  if (!run.wear.years.empty())
    text += over_the_years(door_case, run.wear);
  for (const auto& d : run.open_thermal)
    text += warm_state(door_case, run, d);
  for (const auto& d : run.closed)
    text += closed_state(door_case, run, d);
  if (!run.closed.empty() && door_case.door.gasket.set_gap > door_case.door.gasket.height)
    text += "\nThe set gap is wider than the gasket is high: as drawn it touches nothing.\n";
  if (run.closed.empty() && !door_case.door.gasket.curve.empty())
    text += "\nThe closed door was not computed: there is a gasket but no latch.\n";
  if (!run.uncertainty.intervals.empty())
    text += uncertainty_text(run.uncertainty, door_case.units);
  text += end_float_table(door_case, run);
  text += checks(door_case, run);
  if (!run.remedies.empty())
    text += "\nWhat would change it, each computed, the least first\n";
  for (const auto& line : run.remedies)
    text += "  " + line + "\n";
  text += trust(door_case, run);
  text += fmt::format("\nThe door {}.\n",
                      verdict::worst(run.checks) == verdict::Verdict::holds   ? "holds"
                      : verdict::worst(run.checks) == verdict::Verdict::close ? "is close"
                                                                              : "fails");
  return text + cautions;
}

} // namespace hangtrue::output
