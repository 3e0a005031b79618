// SPDX-License-Identifier: GPL-3.0-or-later
#include "cases/verdict/remedies.hpp"

#include "cases/input/units.hpp"
#include "cases/verdict/checks.hpp"
#include "cases/verdict/closed_quantities.hpp"
#include "solver/contact/closed_contact_pairs.hpp"
#include "solver/contact/latch_model.hpp"
#include "solver/firing/critical_instant.hpp"
#include "solver/heat/thermal_state.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <cstddef>

namespace hangtrue::verdict
{

namespace
{

using input::unit::inch;

std::string step_text(const input::DoorCase& c, double m)
{
  return c.units == input::UnitSystem::us ? input::tape_fraction(m) + " in"
                                          : fmt::format("{:.1f} mm", 1e3 * m);
}

// Steps that a shop can set: sixty-fourths, or tenths of a millimetre near them.
std::vector<double> steps(const input::DoorCase& c)
{
  if (c.units == input::UnitSystem::us)
    return {inch / 64.0, inch / 32.0, inch / 16.0, inch / 8.0};
  return {0.4e-3, 0.8e-3, 1.6e-3, 3.2e-3};
}

Remedy from(const analysis::ClosingSetup& closing, const std::string& words)
{
  Remedy result;
  result.text = words;
  result.closing = closing;
  return result;
}

void add_draws(const input::DoorCase& c, std::vector<Remedy>& changes)
{
  for (const double step : steps(c)) {
    Remedy result = from(analysis::closing_setup(c.door),
                         fmt::format("draw every latch in by {} more", step_text(c, step)));
    for (auto& latch : result.closing.latches)
      latch.draw += step;
    changes.push_back(result);
  }
}

void add_moved(const input::DoorCase& c, std::vector<Remedy>& changes)
{
  const double h = c.door.panel.height;
  constexpr double share = contact::balanced_latch_fraction;
  std::vector<std::size_t> on_edge;
  for (std::size_t l = 0; l < c.door.latches.size(); ++l)
    if (c.door.latches[l].edge == door::FreeEdge::latch)
      on_edge.push_back(l);
  if (on_edge.size() == 2) {
    Remedy result = from(analysis::closing_setup(c.door),
                         fmt::format("move the two latches to {} from the ends of their edge",
                                     step_text(c, share * h)));
    result.closing.latches[on_edge[0]].position = share * h;
    result.closing.latches[on_edge[1]].position = (1.0 - share) * h;
    changes.push_back(result);
  }
  if (on_edge.size() == 1) {
    Remedy result = from(analysis::closing_setup(c.door),
                         fmt::format("two latches, {} from the ends of the edge, in place of one",
                                     step_text(c, share * h)));
    door::Latch second = result.closing.latches[on_edge[0]];
    result.closing.latches[on_edge[0]].position = share * h;
    second.position = (1.0 - share) * h;
    result.closing.latches.push_back(second);
    changes.push_back(result);
  }
}

void add_shims(const input::DoorCase& c, std::vector<Remedy>& changes)
{
  for (const double step : steps(c)) {
    analysis::ClosingSetup closing = analysis::closing_setup(c.door);
    closing.shim = step;
    changes.push_back(
        from(closing, fmt::format("shim the hinges {} closer to the frame", step_text(c, step))));
  }
}

void add_closer(const input::DoorCase& c, std::vector<Remedy>& changes)
{
  for (const double step : steps(c)) {
    Remedy result =
        from(analysis::closing_setup(c.door),
             fmt::format("set the whole door {} closer, hinges shimmed and latches drawn",
                         step_text(c, step)));
    result.closing.shim = step;
    for (auto& latch : result.closing.latches)
      latch.draw += step;
    changes.push_back(result);
  }
}

// A gasket that has set wants to be followed up: what a shop does after the first fire.
void add_follow_up(const input::DoorCase& c, std::vector<Remedy>& changes)
{
  for (const double step : steps(c)) {
    Remedy result = from(
        analysis::closing_setup(c.door),
        fmt::format("after the first fire set the whole door {} closer again", step_text(c, step)));
    result.cooled = result.closing;
    result.cooled->shim = step;
    for (auto& latch : result.cooled->latches)
      latch.draw += step;
    changes.push_back(result);
  }
}

// How many of these latches pull at the position of one.
std::ptrdiff_t count_at(const door::Door& door, const std::vector<door::Latch>& latches,
                        const door::Latch& one)
{
  const Vec3 place = contact::latch_place(door, one);
  return std::count_if(latches.begin(), latches.end(), [&](const door::Latch& other) {
    return norm(contact::latch_place(door, other) - place) < contact::same_latch_place;
  });
}

void add_latches(const input::DoorCase& c, std::vector<Remedy>& changes)
{
  constexpr std::size_t maximum = 6;
  const door::Latch like = c.door.latches.front();
  auto with = [&](const std::vector<std::pair<door::FreeEdge, double>>& places,
                  const std::string& words) {
    analysis::ClosingSetup closing = analysis::closing_setup(c.door);
    bool there = false; // a latch is at one of the positions already
    for (const auto& [edge, at] : places) {
      door::Latch added = like;
      added.edge = edge;
      added.position = at;
      there = there || count_at(c.door, closing.latches, added) > 0;
      closing.latches.push_back(added);
    }
    if (closing.latches.size() <= maximum && !there)
      changes.push_back(from(closing, words));
  };
  const double w = c.door.panel.width;
  with({{door::FreeEdge::latch, 0.5 * c.door.panel.height}},
       "add a latch in the middle of the latch edge");
  with({{door::FreeEdge::lower, 0.5 * w}, {door::FreeEdge::upper, 0.5 * w}},
       "add a latch in the middle of the lower and of the upper edge");
}

door::Gasket taller(door::Gasket gasket, double times)
{
  gasket.height *= times;
  gasket.set_gap *= times;
  gasket.crushing *= times;
  for (auto& [squeeze, load] : gasket.curve)
    squeeze *= times;
  return gasket;
}

void add_gaskets(const input::DoorCase& c, std::vector<Remedy>& changes)
{
  for (const double times : {4.0 / 3.0, 5.0 / 3.0}) {
    analysis::ClosingSetup closing = analysis::closing_setup(c.door);
    closing.gasket = taller(closing.gasket, times);
    changes.push_back(from(closing, fmt::format("a gasket of the same kind {} high, set gap {}",
                                                step_text(c, closing.gasket.height),
                                                step_text(c, closing.gasket.set_gap))));
  }
}

void add_result(const input::DoorCase& door_case, analysis::ClosedDoorResult closed, Remedy& change)
{
  closed.door_displacement = {};
  if (change.states.empty())
    change.min_margin = 1.0;
  for (const auto& check : evaluate_checks(door_case, quantities_of(door_case, closed))) {
    change.verdict = std::max(change.verdict, check.verdict);
    change.min_margin = std::min(change.min_margin, 1.0 - check.utilisation);
  }
  change.states.push_back(std::move(closed));
}

} // namespace

std::vector<Remedy> possible_remedies(const input::DoorCase& door_case)
{
  std::vector<Remedy> changes;
  add_draws(door_case, changes);
  add_shims(door_case, changes);
  add_follow_up(door_case, changes);
  add_closer(door_case, changes);
  add_moved(door_case, changes);
  add_latches(door_case, changes);
  add_gaskets(door_case, changes);
  return changes;
}

std::vector<door::Latch> latch_places(const door::Door& door, const std::vector<Remedy>& changes)
{
  std::vector<door::Latch> places = door.latches;
  for (const auto& change : changes)
    for (const auto& latch : change.closing.latches)
      if (count_at(door, places, latch) < count_at(door, change.closing.latches, latch))
        places.push_back(latch);
  return places;
}

std::vector<analysis::ClosedDoorResult> try_remedies(analysis::ClosedDoorTrial& closed,
                                                     const system::StateId& state,
                                                     const std::vector<Remedy>& changes)
{
  const bool cooled = state.thermal.which == heat::ThermalCase::cooled;
  std::vector<analysis::ClosedDoorResult> tried;
  for (const auto& change : changes) {
    std::vector<const analysis::ClosedDoorResult*> after;
    if (cooled)
      for (const auto& earlier : change.states)
        after.push_back(&earlier);
    tried.push_back(closed.solve(cooled && change.cooled ? *change.cooled : change.closing, after));
    tried.back().state = state;
  }
  return tried;
}

void record_trial(const input::DoorCase& door_case, std::vector<analysis::ClosedDoorResult> tried,
                  std::vector<Remedy>& changes)
{
  for (std::size_t i = 0; i < changes.size(); ++i) {
    input::DoorCase changed = door_case;
    changed.door.gasket = changes[i].closing.gasket;
    add_result(changed, std::move(tried[i]), changes[i]);
  }
}

namespace
{

Remedy heated_anew(const input::DoorCase& changed, const std::string& words)
{
  const door::Door& door = changed.door;
  constexpr int level = 1;
  Remedy result = from(analysis::closing_setup(door), words);
  const mesh::Mesh closed_mesh = analysis::make_closed_mesh(door, level);
  analysis::AnalysisCache cache;
  const firing::ThermalLoadCases load_cases = firing::analyse_firing(door, closed_mesh.door, {});
  const analysis::ClosingSetup closing = analysis::closing_setup(door);
  auto close = [&](const heat::ThermalState* thermal,
                   const std::vector<const analysis::ClosedDoorResult*>& after) {
    analysis::ClosedDoorAnalysis position(door, closed_mesh, thermal, door.latches, cache);
    add_result(changed,
               position.solve(closing, after, analysis::ClosedDoorAnalysis::CachedDetail::checks),
               result);
  };
  close(nullptr, {});
  for (const auto& state : load_cases.states)
    close(&state, {});
  std::vector<const analysis::ClosedDoorResult*> after;
  for (const auto& state : result.states)
    after.push_back(&state);
  close(nullptr, after);
  return result;
}

} // namespace

std::vector<Remedy> panel_remedies(const input::DoorCase& door_case, const Progress& progress)
{
  std::vector<Remedy> changes;
  auto report = [&](const std::string& stage, double done) {
    if (progress)
      progress(stage, done);
  };
  input::DoorCase changed = door_case;
  changed.door.fire.instants.clear();
  if (door_case.door.inner_hold.kind != door::SkinRelease::floating) {
    report("with a floating inner skin", 0.8);
    changed.door.inner_hold.kind = door::SkinRelease::floating;
    changes.push_back(heated_anew(changed, "let the inner skin float"));
    changed.door.inner_hold = door_case.door.inner_hold;
  }
  report("with a deeper rim", 0.9);
  changed.door.rim.depth *= 1.5;
  changes.push_back(
      heated_anew(changed, "deepen the rim to " + step_text(door_case, changed.door.rim.depth)));
  return changes;
}

std::vector<std::string> remedy_texts(const std::vector<Remedy>& changes)
{
  constexpr std::size_t best = 3;
  std::vector<std::string> words;
  std::string last_kind;
  for (const auto& change : changes) {
    const std::string kind = change.text.substr(0, change.text.find(' '));
    if (change.verdict == Verdict::fails || kind == last_kind || words.size() == best)
      continue; // of one kind the least that holds is enough
    last_kind = kind;
    words.push_back(fmt::format("{}: then every check of the closed door {} (worst use {:.0f} %)",
                                change.text, verdict_text(change.verdict),
                                100.0 * (1.0 - change.min_margin)));
  }
  if (!words.empty())
    return words;
  std::vector<const Remedy*> nearest;
  for (const auto& change : changes)
    nearest.push_back(&change);
  std::stable_sort(nearest.begin(), nearest.end(),
                   [](const Remedy* a, const Remedy* b) { return a->min_margin > b->min_margin; });
  for (std::size_t i = 0; i < std::min(best, nearest.size()); ++i)
    words.push_back(fmt::format("no single change does it; {} comes near (worst use {:.0f} %)",
                                nearest[i]->text, 100.0 * (1.0 - nearest[i]->min_margin)));
  return words;
}

} // namespace hangtrue::verdict
