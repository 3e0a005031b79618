// SPDX-License-Identifier: GPL-3.0-or-later
#include "cases/figures/sheet_text.hpp"

#include "cases/check/refinement_strategy.hpp"
#include "cases/input/units.hpp"
#include "cases/output/error_text.hpp"
#include "cases/output/unit_formatter.hpp"
#include "cases/runtime/version.hpp"
#include "cases/verdict/check_result.hpp"
#include "cases/verdict/end_float_quantities.hpp"
#include "cases/verdict/quantity_table.hpp"
#include "meshing/door/mass_properties.hpp"
#include "solver/elasticity/nodal_loads.hpp"
#include "solver/system/equilibrium_check.hpp"

#include <fmt/format.h>
#include <fmt/ranges.h>

#include <algorithm>
#include <cmath>

namespace hangtrue::case_figures
{

namespace
{

std::vector<sheet::SheetVerdict> verdicts_of(const input::DoorCase& c, const check::CheckRun& run)
{
  std::vector<verdict::CheckResult> checks = run.checks;
  std::stable_sort(checks.begin(), checks.end(),
                   [](const verdict::CheckResult& a, const verdict::CheckResult& b) {
                     return a.verdict != b.verdict ? a.verdict > b.verdict
                                                   : a.utilisation > b.utilisation;
                   });
  std::vector<sheet::SheetVerdict> verdicts;
  for (const auto& check : checks) {
    const qoi::Quantity quantity = check.id.quantity;
    const auto error = verdict::total_error(check);
    verdicts.push_back({verdict::verdict_text(check.verdict), verdict::quantity_label(c, check.id),
                        system::state_label(check.id.state),
                        verdict::value_text(quantity, check.found, c.units),
                        verdict::value_text(quantity, check.limit, c.units),
                        fmt::format("{:.0f} %", 100.0 * check.utilisation),
                        error ? output::error_text(*error, quantity, c.units) : std::string(),
                        check.limit_origin, check.reason});
  }
  return verdicts;
}

std::string summary_of(const input::DoorCase& c, const check::CheckRun& run)
{
  int holds = 0;
  const verdict::CheckResult* maximum = &run.checks.front();
  std::vector<std::string> failing;
  for (const auto& check : run.checks) {
    holds += check.verdict == verdict::Verdict::holds ? 1 : 0;
    if (check.utilisation > maximum->utilisation)
      maximum = &check;
    if (check.verdict == verdict::Verdict::fails)
      failing.push_back(verdict::quantity_label(c, check.id) + " (" +
                        system::state_label(check.id.state) + ")");
  }
  std::string text =
      fmt::format("{} of {} checks hold. The largest use of a limit is {:.0f} %: {}, {}.", holds,
                  run.checks.size(), 100.0 * maximum->utilisation,
                  verdict::quantity_label(c, maximum->id), system::state_label(maximum->id.state));
  if (!failing.empty())
    text += fmt::format(" Fails: {}.", fmt::join(failing, "; "));
  return text;
}

std::string backing_text(door::JambBacking backing)
{
  switch (backing) {
  case door::JambBacking::edge:
    return "held only along its far edge";
  case door::JambBacking::flange:
    return "held along its far edge, with a return flange along the opening";
  case door::JambBacking::solid:
    return "held all over its back";
  }
  return "";
}

std::string attachment_text(door::SkinRelease hold)
{
  switch (hold) {
  case door::SkinRelease::welded:
    return "welded to rim and stiffeners all over";
  case door::SkinRelease::stitched:
    return "stitched to the outer wall of the rim, else loose";
  case door::SkinRelease::floating:
    return "held by one anchor weld, else free to slide";
  case door::SkinRelease::split:
    return "cut from edge to edge along the hinge axis";
  }
  return "";
}

std::vector<std::string> assumptions_of(const input::DoorCase& c, const check::CheckRun& run)
{
  const door::Door& door = c.door;
  const figures::UnitFormatter words = output::unit_formatter(c.units);
  std::vector<std::string> active_set;
  for (std::size_t h = 0; h < door.hinges.size(); ++h)
    if (door.hinges[h].carries_weight)
      active_set.push_back(fmt::format("{}", h + 1));
  std::vector<std::string> list{
      fmt::format("Open states: the door stands at {:.0f} deg on its hinges, not latched.",
                  input::unit::degrees(door.swing)),
      fmt::format(
          "Steel {} (pins {}), linear elastic, small strains; modulus, yield and elongation over "
          "temperature by EN 1993-1-2:2005.",
          door.steel.grade, door.pin_steel.grade),
      fmt::format(
          "Weight carried by hinge {}; the thrust faces of the others stand half their end float "
          "apart.",
          fmt::join(active_set, ", "))};
  for (std::size_t h = 0; h < door.hinges.size(); ++h)
    list.push_back(
        fmt::format("Hinge {}: pin {}, {}, play in the bore {}; contact without friction.", h + 1,
                    words.size(door.hinges[h].pin_diameter),
                    door.hinges[h].fixity == door::PinFixity::floating ? "free in every bore"
                                                                       : "fast in the frame half",
                    words.length(door.hinges[h].clearance)));
  list.push_back(fmt::format("Jamb {} thick, {} wide, {}.", words.size(door.jamb.thickness),
                             words.size(door.jamb.free_width), backing_text(door.jamb.backing)));
  list.push_back(fmt::format("Insulation {} weighs and insulates but does not stiffen.",
                             door.insulation.kind));
  if (run.open_thermal.empty())
    list.push_back(fmt::format("The whole door is at {}.", words.temperature(door.temperature)));
  for (const auto& w : run.open_thermal)
    list.push_back(fmt::format("{}: gas {}, jamb and frame leaves {}, pins {}.",
                               system::state_label(w.state), words.temperature(w.temperatures.gas),
                               words.temperature(w.temperatures.jamb),
                               words.temperature(w.temperatures.pins)));
  if (!run.open_thermal.empty())
    list.push_back("The inner skin is " + attachment_text(door.inner_hold.kind) + ".");
  list.push_back(fmt::format("Mesh level {}, {} hexahedra of second order, {} unknowns.",
                             check::level_text(run.steps.back().level), run.quality.cells,
                             run.open_cold.unknowns));
  return list;
}

// Force across the axis on the door's knuckles of one hinge, N.
double across_at(const analysis::OpenDoorResult& d, std::size_t hinge)
{
  Vec3 sum;
  for (const auto& k : d.knuckles)
    if (k.hinge == static_cast<int>(hinge) && k.owner == door::KnuckleOwner::door)
      sum += k.pin_force;
  return norm(sum);
}

// Drop of a rigid door with loose bores: every hinge yields half its play at both outermost hinges,
// a floating pin twice; times width over spacing.
sheet::HandCheck play_check(const door::Door& door, const analysis::OpenDoorResult& d,
                            const figures::UnitFormatter& words)
{
  const auto [low, high] = std::minmax_element(
      door.hinges.begin(), door.hinges.end(),
      [](const door::Hinge& a, const door::Hinge& b) { return a.position < b.position; });
  double give = 0.0;
  for (const auto* h : {&*low, &*high})
    give += h->clearance * (h->fixity == door::PinFixity::floating ? 1.0 : 0.5);
  const double drop =
      give * (door.panel.width + 0.5 * door.reveal) / (high->position - low->position);
  return {
      "Drop from play alone", "play of the outermost hinges x width / spacing", words.length(drop),
      words.length(d.drop - d.elastic_drop - d.heat_drop),
      "most that play can do with knuckles that stay parallel to the pin; tilted knuckles touch "
      "earlier"};
}

std::vector<sheet::HandCheck> hand_checks_of(const input::DoorCase& c, const check::CheckRun& run)
{
  const door::Door& door = c.door;
  const analysis::OpenDoorResult& d = run.open_cold;
  const figures::UnitFormatter words = output::unit_formatter(c.units);
  const door::PartMass all = door::total_mass(door::part_masses(door));
  std::vector<sheet::HandCheck> checks{
      {"Weight", "plates, tubes and insulation from the drawing",
       words.force(all.mass * elasticity::standard_gravity), words.force(d.weight),
       "panel with the door's hinge halves"},
      {"Centre of gravity from the hinge edge", "sum of moments of the parts",
       words.size(all.centre.x), words.size(d.centre_of_gravity.x), ""}};
  if (door.hanging == door::HingeEdge::side && door.hinges.size() > 1) {
    std::size_t top = 0;
    for (std::size_t h = 0; h < door.hinges.size(); ++h)
      if (door.hinges[h].position > door.hinges[top].position)
        top = h;
    checks.push_back(
        {"Level force on the uppermost hinge", "weight x arm / spacing", words.force(d.couple),
         words.force(across_at(d, top)),
         door.hinges.size() > 2
             ? "the hinges between take a share; a load on the handle adds"
             : "knuckles press at their edges, which changes the arm; a load on the handle adds"});
    checks.push_back(play_check(door, d, words));
  }
  for (const auto& warm : run.open_thermal)
    checks.push_back({"Bow, " + system::state_label(warm.state),
                      "elongation of inner less outer skin x (W^2 + H^2) / (8 d)",
                      words.length(warm.temperatures.estimated_bow),
                      words.length(std::abs(warm.bow.outer_corners)),
                      "middle against corners, from the mean temperatures of the skins"});
  for (const auto& warm : run.open_thermal)
    if (const contact::HingeEndFloat* at = verdict::tightest(warm.axial);
        at != nullptr && at->hand_estimate > 0.0)
      checks.push_back({fmt::format("End float taken at hinge {}, {}", at->hinge + 1,
                                    system::state_label(warm.state)),
                        "strain at the pin axis, linear from both skins, x distance",
                        words.length(at->hand_estimate), words.length(at->taken),
                        "from the hinge that carries; jamb and frame leaves do not bow"});
  return checks;
}

std::vector<std::string> books_of(const input::DoorCase& c, const check::CheckRun& run)
{
  const system::EquilibriumCheck& b = run.open_cold.balance;
  std::vector<std::string> list{
      fmt::format("Contact forces against weight and load: {:.0e} of the weight; moments {:.0e}.",
                  b.force_error, b.moment_error),
      fmt::format("Reactions at the jamb from its stresses against all weights: {:.0e}.",
                  b.reaction_error)};
  for (const auto& l : run.steps)
    list.push_back(
        l.change
            ? fmt::format("Mesh level {}: {} unknowns, the drop changed by {:.1f} % from the "
                          "one before.",
                          check::level_text(l.level), l.unknowns,
                          100.0 * *l.change / std::max(1e-12, std::abs(l.drop)))
            : fmt::format("Mesh level {}: {} unknowns.", check::level_text(l.level), l.unknowns));
  if (!run.reached)
    list.emplace_back("The asked accuracy was NOT reached on the finest mesh allowed.");
  for (const auto& sentence : output::error_sentences(c, run))
    list.push_back(sentence);
  for (const auto& w : run.open_thermal)
    list.push_back(fmt::format("Heat in against heat stored and out, {}: {:.0e} of the throughput.",
                               system::state_label(w.state), w.temperatures.energy_error));
  return list;
}

std::vector<std::string> not_checked_of(const check::CheckRun& run)
{
  std::vector<std::string> list{
      run.closed.empty() ? "The closed door: gasket, latch and what they do to hinges and handle."
                         : "Draught and smoke through what does not seal, beyond its gap.",
      run.wear.years.empty()
          ? "Friction in the hinges, dents, wear, weld shrinkage, what holds the jamb."
          : "Friction in the hinges, dents, weld shrinkage, what holds the jamb.",
      "Fatigue, creep, explosion; seismic and wind loads."};
  list.insert(list.begin() + 1,
              run.open_thermal.empty()
                  ? "Heat: the door file gives no fire."
                  : "How heat reaches the frame (it has one temperature); how much bow "
                    "stays after the first fires.");
  return list;
}

const std::vector<std::string> cautions{
    // NOLINTNEXTLINE(bugprone-suspicious-missing-comma): sentences are longer than lines
    "A heavy door can drop and crush while it is hung: keep it on a hoist or blocks until every "
    "hinge weld is finished and cool, nobody under it. Mind the pinch points at the hinge side.",
    "Hot surfaces burn. Opening a fired chamber can flash: crack it, wait, stand aside.",
    "Zinc fumes from galvanised or plated steel are poisonous: none of it in hot parts.",
    "Dust of ceramic fibre harms the lungs: respirator, wet methods. Vent the insulated cavity: "
    "trapped damp turns to steam.",
    "Welding by qualified welders. Local codes, the authority having jurisdiction and a licensed "
    "professional engineer decide; this sheet informs."};

} // namespace

sheet::Sheet sheet_text(const input::DoorCase& c, const check::CheckRun& run)
{
  sheet::Sheet sheet;
  sheet.title.owner = c.door.shop;
  sheet.title.title = c.door.name;
  sheet.title.document_type = "Check of a hinged door";
  sheet.verdict = verdict::verdict_text(verdict::worst(run.checks));
  sheet.summary = summary_of(c, run);
  sheet.verdicts = verdicts_of(c, run);
  sheet.assumptions = assumptions_of(c, run);
  sheet.hand_checks = hand_checks_of(c, run);
  sheet.books = books_of(c, run);
  sheet.not_checked = not_checked_of(run);
  sheet.cautions = cautions;
  for (const auto& line : c.echo)
    sheet.keys.push_back({line.key, line.written, line.given});
  sheet.versions = {{"hangtrue", version}, {"Libraries", library_versions}};
  return sheet;
}

} // namespace hangtrue::case_figures
