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

namespace hangtrue
{

namespace
{

std::vector<SheetVerdict> verdicts_of(const DoorCase& c, const CheckRun& run)
{
  std::vector<CheckResult> checks = run.checks;
  std::stable_sort(checks.begin(), checks.end(), [](const CheckResult& a, const CheckResult& b) {
    return a.verdict != b.verdict ? a.verdict > b.verdict : a.utilisation > b.utilisation;
  });
  std::vector<SheetVerdict> verdicts;
  for (const auto& check : checks) {
    const Quantity quantity = check.id.quantity;
    const auto error = total_error(check);
    verdicts.push_back({verdict_word(check.verdict), quantity_label(c, check.id),
                        state_label(check.id.state), value_text(quantity, check.found, c.units),
                        value_text(quantity, check.limit, c.units),
                        fmt::format("{:.0f} %", 100.0 * check.utilisation),
                        error ? error_text(*error, quantity, c.units) : std::string(),
                        check.limit_origin, check.reason});
  }
  return verdicts;
}

std::string summary_of(const DoorCase& c, const CheckRun& run)
{
  int holds = 0;
  const CheckResult* most = &run.checks.front();
  std::vector<std::string> failing;
  for (const auto& check : run.checks) {
    holds += check.verdict == Verdict::holds ? 1 : 0;
    if (check.utilisation > most->utilisation)
      most = &check;
    if (check.verdict == Verdict::fails)
      failing.push_back(quantity_label(c, check.id) + " (" + state_label(check.id.state) + ")");
  }
  std::string text =
      fmt::format("{} of {} checks hold. The largest use of a limit is {:.0f} %: {}, {}.", holds,
                  run.checks.size(), 100.0 * most->utilisation, quantity_label(c, most->id),
                  state_label(most->id.state));
  if (!failing.empty())
    text += fmt::format(" Fails: {}.", fmt::join(failing, "; "));
  return text;
}

std::string backing_words(JambBacking backing)
{
  switch (backing) {
  case JambBacking::edge:
    return "held only along its far edge";
  case JambBacking::flange:
    return "held along its far edge, with a return flange along the opening";
  case JambBacking::solid:
    return "held all over its back";
  }
  return "";
}

std::string hold_words(SkinHold hold)
{
  switch (hold) {
  case SkinHold::welded:
    return "welded to rim and stiffeners all over";
  case SkinHold::stitched:
    return "stitched to the outer wall of the rim, else loose";
  case SkinHold::floating:
    return "held by one anchor weld, else free to slide";
  case SkinHold::split:
    return "cut from edge to edge along the hinge axis";
  }
  return "";
}

std::vector<std::string> assumptions_of(const DoorCase& c, const CheckRun& run)
{
  const Door& door = c.door;
  const FigureWords words = figure_words(c.units);
  std::vector<std::string> carrying;
  for (std::size_t h = 0; h < door.hinges.size(); ++h)
    if (door.hinges[h].carries_weight)
      carrying.push_back(fmt::format("{}", h + 1));
  std::vector<std::string> list{
      fmt::format("Open states: the door stands at {:.0f} deg on its hinges, not latched.",
                  unit::degrees(door.swing)),
      fmt::format(
          "Steel {} (pins {}), linear elastic, small strains; modulus, yield and elongation over "
          "temperature by EN 1993-1-2:2005.",
          door.steel.grade, door.pin_steel.grade),
      fmt::format(
          "Weight carried by hinge {}; the thrust faces of the others stand half their end float "
          "apart.",
          fmt::join(carrying, ", "))};
  for (std::size_t h = 0; h < door.hinges.size(); ++h)
    list.push_back(fmt::format(
        "Hinge {}: pin {}, {}, play in the bore {}; contact without friction.", h + 1,
        words.size(door.hinges[h].pin_diameter),
        door.hinges[h].pin == PinHold::floating ? "free in every bore" : "fast in the frame half",
        words.length(door.hinges[h].clearance)));
  list.push_back(fmt::format("Jamb {} thick, {} wide, {}.", words.size(door.jamb.thickness),
                             words.size(door.jamb.free_width), backing_words(door.jamb.backing)));
  list.push_back(fmt::format("Insulation {} weighs and insulates but does not stiffen.",
                             door.insulation.kind));
  if (run.warm.empty())
    list.push_back(fmt::format("The whole door is at {}.", words.temperature(door.temperature)));
  for (const auto& w : run.warm)
    list.push_back(fmt::format("{}: gas {}, jamb and frame leaves {}, pins {}.",
                               state_label(w.state), words.temperature(w.warmth.gas),
                               words.temperature(w.warmth.jamb), words.temperature(w.warmth.pins)));
  if (!run.warm.empty())
    list.push_back("The inner skin is " + hold_words(door.inner_hold.kind) + ".");
  list.push_back(fmt::format("Mesh level {}, {} hexahedra of second order, {} unknowns.",
                             level_words(run.levels.back().levels), run.quality.cells,
                             run.deflection.unknowns));
  return list;
}

// Force across the axis on the door's knuckles of one hinge, N.
double across_at(const Deflection& d, std::size_t hinge)
{
  Vec3 sum;
  for (const auto& k : d.knuckles)
    if (k.hinge == static_cast<int>(hinge) && k.owner == Owner::door)
      sum += k.pin_force;
  return norm(sum);
}

// Drop of a rigid door with loose bores: every joint yields half its play at both outermost hinges,
// a floating pin twice; times width over spacing.
HandCheck play_check(const Door& door, const Deflection& d, const FigureWords& words)
{
  const auto [low, high] =
      std::minmax_element(door.hinges.begin(), door.hinges.end(),
                          [](const Hinge& a, const Hinge& b) { return a.at < b.at; });
  double give = 0.0;
  for (const auto* h : {&*low, &*high})
    give += h->clearance * (h->pin == PinHold::floating ? 1.0 : 0.5);
  const double drop = give * (door.panel.width + 0.5 * door.reveal) / (high->at - low->at);
  return {
      "Drop from play alone", "play of the outermost hinges x width / spacing", words.length(drop),
      words.length(d.drop - d.elastic_drop - d.heat_drop),
      "most that play can do with knuckles that stay parallel to the pin; tilted knuckles touch "
      "earlier"};
}

std::vector<HandCheck> hand_checks_of(const DoorCase& c, const CheckRun& run)
{
  const Door& door = c.door;
  const Deflection& d = run.deflection;
  const FigureWords words = figure_words(c.units);
  const PartMass all = together(part_masses(door));
  std::vector<HandCheck> checks{{"Weight", "plates, tubes and insulation from the drawing",
                                 words.force(all.mass * standard_gravity), words.force(d.weight),
                                 "panel with the door's hinge halves"},
                                {"Centre of gravity from the hinge edge",
                                 "sum of moments of the parts", words.size(all.centre.x),
                                 words.size(d.centre_of_gravity.x), ""}};
  if (door.hanging == Hanging::side && door.hinges.size() > 1) {
    std::size_t top = 0;
    for (std::size_t h = 0; h < door.hinges.size(); ++h)
      if (door.hinges[h].at > door.hinges[top].at)
        top = h;
    checks.push_back(
        {"Level force on the uppermost hinge", "weight x arm / spacing", words.force(d.couple),
         words.force(across_at(d, top)),
         door.hinges.size() > 2
             ? "the hinges between take a share; a load on the handle adds"
             : "knuckles press at their edges, which changes the arm; a load on the handle adds"});
    checks.push_back(play_check(door, d, words));
  }
  for (const auto& warm : run.warm)
    checks.push_back({"Bow, " + state_label(warm.state),
                      "elongation of inner less outer skin x (W^2 + H^2) / (8 d)",
                      words.length(warm.warmth.hand_bow),
                      words.length(std::abs(warm.bow.outer_corners)),
                      "middle against corners, from the mean temperatures of the skins"});
  for (const auto& warm : run.warm)
    if (const HingeFloat* at = tightest(warm.axial); at != nullptr && at->hand > 0.0)
      checks.push_back(
          {fmt::format("End float taken at hinge {}, {}", at->hinge + 1, state_label(warm.state)),
           "strain at the pin axis, linear from both skins, x distance", words.length(at->hand),
           words.length(at->taken),
           "from the hinge that carries; jamb and frame leaves do not bow"});
  return checks;
}

std::vector<std::string> books_of(const DoorCase& c, const CheckRun& run)
{
  const Balance& b = run.deflection.balance;
  std::vector<std::string> list{
      fmt::format("Contact forces against weight and load: {:.0e} of the weight; moments {:.0e}.",
                  b.force_error, b.moment_error),
      fmt::format("Reactions at the jamb from its stresses against all weights: {:.0e}.",
                  b.reaction_error)};
  for (const auto& l : run.levels)
    list.push_back(
        l.change ? fmt::format("Mesh level {}: {} unknowns, the drop changed by {:.1f} % from the "
                               "one before.",
                               level_words(l.levels), l.unknowns,
                               100.0 * *l.change / std::max(1e-12, std::abs(l.drop)))
                 : fmt::format("Mesh level {}: {} unknowns.", level_words(l.levels), l.unknowns));
  if (!run.reached)
    list.emplace_back("The asked accuracy was NOT reached on the finest mesh allowed.");
  for (const auto& sentence : error_sentences(c, run))
    list.push_back(sentence);
  for (const auto& w : run.warm)
    list.push_back(fmt::format("Heat in against heat stored and out, {}: {:.0e} of the throughput.",
                               state_label(w.state), w.warmth.energy_error));
  return list;
}

std::vector<std::string> not_checked_of(const CheckRun& run)
{
  std::vector<std::string> list{
      run.closed.empty() ? "The shut door: gasket, latch and what they do to hinges and handle."
                         : "Draught and smoke through what does not seal, beyond its gap.",
      run.wear.years.empty()
          ? "Friction in the hinges, dents, wear, weld shrinkage, what holds the jamb."
          : "Friction in the hinges, dents, weld shrinkage, what holds the jamb.",
      "Fatigue, creep, explosion; seismic and wind loads."};
  list.insert(list.begin() + 1,
              run.warm.empty()
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

Sheet sheet_words(const DoorCase& c, const CheckRun& run)
{
  Sheet sheet;
  sheet.title.owner = c.door.shop;
  sheet.title.title = c.door.name;
  sheet.title.document_type = "Check of a hinged door";
  sheet.verdict = verdict_word(worst(run.checks));
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

} // namespace hangtrue
