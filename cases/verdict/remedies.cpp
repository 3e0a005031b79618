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

namespace hangtrue
{

namespace
{

using unit::inch;

std::string step_text(const DoorCase& c, double m)
{
  return c.units == Units::us ? tape_fraction(m) + " in" : fmt::format("{:.1f} mm", 1e3 * m);
}

// Steps that a shop can set: sixty-fourths, or tenths of a millimetre near them.
std::vector<double> steps(const DoorCase& c)
{
  if (c.units == Units::us)
    return {inch / 64.0, inch / 32.0, inch / 16.0, inch / 8.0};
  return {0.4e-3, 0.8e-3, 1.6e-3, 3.2e-3};
}

Change from(const Closing& closing, const std::string& words)
{
  Change made;
  made.words = words;
  made.closing = closing;
  return made;
}

void add_draws(const DoorCase& c, std::vector<Change>& changes)
{
  for (const double step : steps(c)) {
    Change made =
        from(closing_of(c.door), fmt::format("draw every latch in by {} more", step_text(c, step)));
    for (auto& latch : made.closing.latches)
      latch.draw += step;
    changes.push_back(made);
  }
}

void add_moved(const DoorCase& c, std::vector<Change>& changes)
{
  const double h = c.door.panel.height;
  constexpr double share = even_split;
  std::vector<std::size_t> on_edge;
  for (std::size_t l = 0; l < c.door.latches.size(); ++l)
    if (c.door.latches[l].edge == FreeEdge::latch)
      on_edge.push_back(l);
  if (on_edge.size() == 2) {
    Change made = from(closing_of(c.door),
                       fmt::format("move the two latches to {} from the ends of their edge",
                                   step_text(c, share * h)));
    made.closing.latches[on_edge[0]].at = share * h;
    made.closing.latches[on_edge[1]].at = (1.0 - share) * h;
    changes.push_back(made);
  }
  if (on_edge.size() == 1) {
    Change made = from(closing_of(c.door),
                       fmt::format("two latches, {} from the ends of the edge, in place of one",
                                   step_text(c, share * h)));
    Latch second = made.closing.latches[on_edge[0]];
    made.closing.latches[on_edge[0]].at = share * h;
    second.at = (1.0 - share) * h;
    made.closing.latches.push_back(second);
    changes.push_back(made);
  }
}

void add_shims(const DoorCase& c, std::vector<Change>& changes)
{
  for (const double step : steps(c)) {
    Closing closing = closing_of(c.door);
    closing.shim = step;
    changes.push_back(
        from(closing, fmt::format("shim the hinges {} closer to the frame", step_text(c, step))));
  }
}

void add_closer(const DoorCase& c, std::vector<Change>& changes)
{
  for (const double step : steps(c)) {
    Change made = from(closing_of(c.door),
                       fmt::format("set the whole door {} closer, hinges shimmed and latches drawn",
                                   step_text(c, step)));
    made.closing.shim = step;
    for (auto& latch : made.closing.latches)
      latch.draw += step;
    changes.push_back(made);
  }
}

// A gasket that has set wants to be followed up: what a shop does after the first fire.
void add_follow_up(const DoorCase& c, std::vector<Change>& changes)
{
  for (const double step : steps(c)) {
    Change made = from(
        closing_of(c.door),
        fmt::format("after the first fire set the whole door {} closer again", step_text(c, step)));
    made.cooled = made.closing;
    made.cooled->shim = step;
    for (auto& latch : made.cooled->latches)
      latch.draw += step;
    changes.push_back(made);
  }
}

// How many of these latches pull at the position of one.
std::ptrdiff_t count_at(const Door& door, const std::vector<Latch>& latches, const Latch& one)
{
  const Vec3 place = latch_place(door, one);
  return std::count_if(latches.begin(), latches.end(), [&](const Latch& other) {
    return norm(latch_place(door, other) - place) < same_latch_place;
  });
}

void add_latches(const DoorCase& c, std::vector<Change>& changes)
{
  constexpr std::size_t most = 6;
  const Latch like = c.door.latches.front();
  auto with = [&](const std::vector<std::pair<FreeEdge, double>>& places,
                  const std::string& words) {
    Closing closing = closing_of(c.door);
    bool there = false; // a latch is at one of the positions already
    for (const auto& [edge, at] : places) {
      Latch added = like;
      added.edge = edge;
      added.at = at;
      there = there || count_at(c.door, closing.latches, added) > 0;
      closing.latches.push_back(added);
    }
    if (closing.latches.size() <= most && !there)
      changes.push_back(from(closing, words));
  };
  const double w = c.door.panel.width;
  with({{FreeEdge::latch, 0.5 * c.door.panel.height}},
       "add a latch in the middle of the latch edge");
  with({{FreeEdge::lower, 0.5 * w}, {FreeEdge::upper, 0.5 * w}},
       "add a latch in the middle of the lower and of the upper edge");
}

Gasket taller(Gasket gasket, double times)
{
  gasket.height *= times;
  gasket.set_gap *= times;
  gasket.crushing *= times;
  for (auto& [squeeze, load] : gasket.curve)
    squeeze *= times;
  return gasket;
}

void add_gaskets(const DoorCase& c, std::vector<Change>& changes)
{
  for (const double times : {4.0 / 3.0, 5.0 / 3.0}) {
    Closing closing = closing_of(c.door);
    closing.gasket = taller(closing.gasket, times);
    changes.push_back(from(closing, fmt::format("a gasket of the same kind {} high, set gap {}",
                                                step_text(c, closing.gasket.height),
                                                step_text(c, closing.gasket.set_gap))));
  }
}

void add_result(const DoorCase& door_case, ClosedDoor closed, Change& change)
{
  closed.door_move = {};
  if (change.states.empty())
    change.least_margin = 1.0;
  for (const auto& check : evaluate_checks(door_case, quantities_of(door_case, closed))) {
    change.verdict = std::max(change.verdict, check.verdict);
    change.least_margin = std::min(change.least_margin, 1.0 - check.utilisation);
  }
  change.states.push_back(std::move(closed));
}

} // namespace

std::vector<Change> possible_changes(const DoorCase& door_case)
{
  std::vector<Change> changes;
  add_draws(door_case, changes);
  add_shims(door_case, changes);
  add_follow_up(door_case, changes);
  add_closer(door_case, changes);
  add_moved(door_case, changes);
  add_latches(door_case, changes);
  add_gaskets(door_case, changes);
  return changes;
}

std::vector<Latch> latch_places(const Door& door, const std::vector<Change>& changes)
{
  std::vector<Latch> places = door.latches;
  for (const auto& change : changes)
    for (const auto& latch : change.closing.latches)
      if (count_at(door, places, latch) < count_at(door, change.closing.latches, latch))
        places.push_back(latch);
  return places;
}

std::vector<ClosedDoor> try_changes(TrialDoor& shut, const StateId& state, bool cooled,
                                    const std::vector<Change>& changes)
{
  std::vector<ClosedDoor> tried;
  for (const auto& change : changes) {
    std::vector<const ClosedDoor*> after;
    if (cooled)
      for (const auto& earlier : change.states)
        after.push_back(&earlier);
    tried.push_back(shut.close(cooled && change.cooled ? *change.cooled : change.closing, after));
    tried.back().state = state;
  }
  return tried;
}

void add_tried(const DoorCase& door_case, std::vector<ClosedDoor> tried,
               std::vector<Change>& changes)
{
  for (std::size_t i = 0; i < changes.size(); ++i) {
    DoorCase changed = door_case;
    changed.door.gasket = changes[i].closing.gasket;
    add_result(changed, std::move(tried[i]), changes[i]);
  }
}

namespace
{

Change heated_anew(const DoorCase& changed, const std::string& words)
{
  const Door& door = changed.door;
  constexpr int level = 1;
  Change made = from(closing_of(door), words);
  const Mesh shut = shut_mesh(door, level);
  AnalysisCache kept;
  const Firing firing = fire_door(door, shut.door, {});
  const Closing closing = closing_of(door);
  auto close = [&](const WarmDoor* warm, const std::vector<const ClosedDoor*>& after) {
    ShutDoor standing(door, shut, warm, door.latches, kept);
    add_result(changed, standing.close(closing, after, ShutDoor::Detail::checks), made);
  };
  close(nullptr, {});
  for (const auto& state : firing.states)
    close(&state, {});
  std::vector<const ClosedDoor*> after;
  for (const auto& state : made.states)
    after.push_back(&state);
  close(nullptr, after);
  return made;
}

} // namespace

std::vector<Change> panel_changes(const DoorCase& door_case, const Progress& progress)
{
  std::vector<Change> changes;
  auto tell = [&](const std::string& stage, double done) {
    if (progress)
      progress(stage, done);
  };
  DoorCase changed = door_case;
  changed.door.fire.instants.clear();
  if (door_case.door.inner_hold.kind != SkinHold::floating) {
    tell("with a floating inner skin", 0.8);
    changed.door.inner_hold.kind = SkinHold::floating;
    changes.push_back(heated_anew(changed, "let the inner skin float"));
    changed.door.inner_hold = door_case.door.inner_hold;
  }
  tell("with a deeper rim", 0.9);
  changed.door.rim.depth *= 1.5;
  changes.push_back(
      heated_anew(changed, "deepen the rim to " + step_text(door_case, changed.door.rim.depth)));
  return changes;
}

std::vector<std::string> advice(const std::vector<Change>& changes)
{
  constexpr std::size_t best = 3;
  std::vector<std::string> words;
  std::string last_kind;
  for (const auto& change : changes) {
    const std::string kind = change.words.substr(0, change.words.find(' '));
    if (change.verdict == Verdict::fails || kind == last_kind || words.size() == best)
      continue; // of one kind the least that holds is enough
    last_kind = kind;
    words.push_back(fmt::format("{}: then every check of the closed door {} (worst use {:.0f} %)",
                                change.words, verdict_word(change.verdict),
                                100.0 * (1.0 - change.least_margin)));
  }
  if (!words.empty())
    return words;
  std::vector<const Change*> nearest;
  for (const auto& change : changes)
    nearest.push_back(&change);
  std::stable_sort(nearest.begin(), nearest.end(), [](const Change* a, const Change* b) {
    return a->least_margin > b->least_margin;
  });
  for (std::size_t i = 0; i < std::min(best, nearest.size()); ++i)
    words.push_back(fmt::format("no single change does it; {} comes near (worst use {:.0f} %)",
                                nearest[i]->words, 100.0 * (1.0 - nearest[i]->least_margin)));
  return words;
}

} // namespace hangtrue
