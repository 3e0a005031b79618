// SPDX-License-Identifier: GPL-3.0-or-later
#include "cases/verdict/discretization_error.hpp"

#include "cases/verdict/closed_quantities.hpp"
#include "cases/verdict/quantities_of_interest.hpp"
#include "solver/analysis/closed_analysis.hpp"
#include "solver/contact/gasket_model.hpp"
#include "solver/firing/firing_replay.hpp"

#include <algorithm>
#include <cmath>

namespace hangtrue::verdict
{

namespace
{

// Factor on the change between two levels: Richardson's change / (r^p - 1) times the factor of
// safety that Roache gives to two grids whose order was not observed (Perspective: a method for
// uniform reporting of grid refinement studies, J. Fluids Eng. 116, 1994, 405-413).
double richardson_factor(ConvergenceClass convergence, const MeshPair& levels)
{
  constexpr double safety = 3.0;
  if (convergence == ConvergenceClass::closed_hinge_forces)
    return std::max(richardson_factor(ConvergenceClass::closed, levels),
                    richardson_factor(ConvergenceClass::hinge_forces, levels));
  const double panel = (levels.fine.panel + 1.0) / (levels.coarse.panel + 1.0);
  const double along_knuckle = 1.0 * levels.fine.hinge / levels.coarse.hinge;
  double ratio = convergence == ConvergenceClass::hinge_forces ? along_knuckle : panel;
  if (convergence == ConvergenceClass::bow &&
      levels.coarse.panel == 1) // cells between the skins are halved
    ratio = 2.0;
  // What depends on corners of welds and of knuckles converges by 2; a bow and a panel between
  // gasket and latches depend on smooth fields.
  const bool smooth =
      convergence == ConvergenceClass::closed || convergence == ConvergenceClass::bow;
  const double order = smooth ? 3.0 : 2.0;
  const double left = safety / (std::pow(ratio, order) - 1.0);
  return levels.in_time ? std::max(1.0, left) : left; // a change by time steps has none
}

// Fraction of the value below which two meshes cannot give an error: where a pin bears changes by
// whole cells, in a closed door from node to node of a bore, and so does the position of a patch.
// As observed (docs/mesh-error.md).
double error_floor(ConvergenceClass convergence)
{
  switch (convergence) {
  case ConvergenceClass::on_hinges:
  case ConvergenceClass::bow:
    return 0.005;
  case ConvergenceClass::closed:
    return 0.01;
  case ConvergenceClass::hinge_forces:
  case ConvergenceClass::plates:
  case ConvergenceClass::closed_hinge_forces:
    break;
  }
  return 0.03;
}

void compare(const std::vector<QuantityOfInterest>& coarse, const MeshPair& levels,
             std::vector<QuantityOfInterest>& last)
{
  for (auto& q : last)
    if (const QuantityOfInterest* same = find_number(coarse, q.id))
      q.error = reported_error(q, *same, levels);
}

// The load depends on the squeeze by the gasket's law, which is flat where it is open: its error is
// the effect of the error of the squeeze on the load, in either direction.
void through_the_law(const door::Gasket& gasket, std::vector<QuantityOfInterest>& closed)
{
  QuantityOfInterest* load = nullptr;
  const QuantityOfInterest* squeeze = nullptr;
  for (auto& q : closed) {
    if (q.id.quantity == qoi::Quantity::gasket_load)
      load = &q;
    if (q.id.quantity == qoi::Quantity::least_squeeze)
      squeeze = &q;
  }
  if (load == nullptr || squeeze == nullptr || !load->error)
    return;
  const auto at = [&](double s) { return contact::line_load(gasket, s).load; };
  const double here = at(squeeze->value);
  const double off = squeeze->error.value_or(0.0);
  load->error = std::max(at(squeeze->value + off) - here, here - at(squeeze->value - off));
}

// States that were not computed twice inherit the largest error of those that were, and never less
// than the estimate on their own mesh.
void inherit(const std::vector<const std::vector<QuantityOfInterest>*>& from,
             std::vector<QuantityOfInterest>& all)
{
  for (auto& q : all) {
    q.inherited = true;
    if (q.estimated_error)
      q.error = dwr_error(q);
    for (const auto* state : from)
      if (const QuantityOfInterest* same = find_number(*state, q.id))
        q.error = std::max(q.error.value_or(0.0), same->error.value_or(0.0));
  }
}

// A state that was computed on both meshes.
struct OnBoth {
  std::size_t place = 0; // among the states
  const std::vector<QuantityOfInterest>* before = nullptr;
  MeshPair levels;
};

// Errors of the states from `first` on: compared where they are on both meshes, else inherited.
void estimate_states(const std::vector<OnBoth>& both, std::size_t first, const door::Gasket& gasket,
                     std::vector<std::vector<QuantityOfInterest>>& states)
{
  std::vector<const std::vector<QuantityOfInterest>*> known;
  for (const auto& one : both) {
    compare(*one.before, one.levels, states[one.place]);
    through_the_law(gasket, states[one.place]);
    known.push_back(&states[one.place]);
  }
  for (std::size_t s = first; s < states.size(); ++s)
    if (std::find(known.begin(), known.end(), &states[s]) == known.end()) {
      inherit(known, states[s]);
      through_the_law(gasket, states[s]);
    }
}

// The scale of the error floor: the value, what it is a small difference of, and a tenth of its
// limit, below which errors are irrelevant.
double floor_scale(const QuantityOfInterest& q)
{
  return std::max({std::abs(q.value), q.scale, q.limit ? 0.1 * q.limit->value : 0.0});
}

// Ratio of a limit that depends on temperatures between the two meshes.
double limit_ratio(const QuantityOfInterest& last, const QuantityOfInterest& coarse)
{
  const bool both =
      last.limit && coarse.limit && last.limit->value > 0.0 && coarse.limit->value > 0.0;
  return both ? last.limit->value / coarse.limit->value : 1.0;
}

} // namespace

double richardson_error(const QuantityOfInterest& last, const QuantityOfInterest& coarse,
                        const MeshPair& levels)
{
  const double change = std::abs(last.value - limit_ratio(last, coarse) * coarse.value);
  // With two cells along a knuckle a hundredth of it, as observed (docs/mesh-error.md).
  const double lever = 0.02 / levels.fine.hinge * last.per_knuckle_length;
  // A tenth of a micrometre is nothing on a door.
  const double unreadable =
      row_of(last.id.quantity).dimension == input::Dimension::length ? 1e-7 : 0.0; // m
  const ConvergenceClass convergence = convergence_of(last.id);
  return std::max({richardson_factor(convergence, levels) * change,
                   error_floor(convergence) * floor_scale(last), lever, last.load_offset_change,
                   unreadable});
}

double dwr_error(double missing, double value)
{
  constexpr double edge = 9.0 / 5.0; // of 1 where all is smooth and 9/5 at the edge of a weld
  return std::max(edge * std::abs(missing),
                  error_floor(ConvergenceClass::on_hinges) * std::abs(value));
}

double dwr_error(const QuantityOfInterest& quantity)
{
  return std::max(dwr_error(quantity.estimated_error.value_or(0.0), quantity.value),
                  quantity.load_offset_change);
}

double reported_error(const QuantityOfInterest& last, const QuantityOfInterest& coarse,
                      const MeshPair& levels)
{
  if (!last.estimated_error)
    return richardson_error(last, coarse, levels);
  if (convergence_of(last.id) == ConvergenceClass::on_hinges && !levels.in_time)
    return dwr_error(last);
  return std::max(dwr_error(last), richardson_error(last, coarse, levels));
}

namespace
{

std::vector<QuantityOfInterest> coarse_closed_state(const input::DoorCase& c,
                                                    const CoarseSolution& coarse,
                                                    const heat::ThermalState* heat)
{
  if (!door::can_close(c.door))
    return {};
  analysis::ClosedDoorAnalysis door(c.door, coarse.closed_mesh->mesh, heat, c.door.latches,
                                    *coarse.cache, coarse.closed_active_contacts);
  const analysis::ClosedDoorResult closed = door.solve(analysis::closing_setup(c.door), {});
  if (heat != nullptr) // the cold one comes again
    coarse.cache->release(*door.assembly().elastic[contact::door_body]);
  return quantities_of(c, closed);
}

} // namespace

std::vector<std::size_t> replayed_states(std::size_t states)
{
  if (states == 0)
    return {};
  return states == 1 ? std::vector<std::size_t>{0} : std::vector<std::size_t>{0, states - 1};
}

std::vector<CoarseState> coarse_thermal_states(const std::vector<heat::ThermalState>& thermal,
                                               const CoarseSolution& coarse)
{
  std::vector<CoarseState> result;
  std::vector<heat::ThermalStateId> requested;
  for (const std::size_t s : replayed_states(thermal.size())) {
    requested.push_back(thermal[s].state);
    result.push_back({s, {}, {}, {}});
  }
  if (requested.empty())
    return result;
  const auto& heats = firing::cached_replay(*coarse.heat, requested);
  for (std::size_t i = 0; i < result.size(); ++i)
    result[i].heat = heats[i];
  return result;
}

void coarse_quantities(const input::DoorCase& c, const CoarseSolution& coarse, CoarseState& state)
{
  state.open =
      quantities_of(c, analysis::solve_open_door({.door = c.door,
                                                  .mesh = coarse.mesh,
                                                  .thermal = &state.heat,
                                                  .cache = coarse.cache,
                                                  .detail = analysis::ResultDetail::split,
                                                  .warm_start = coarse.open.active_contacts}));
  state.closed = coarse_closed_state(c, coarse, &state.heat);
}

std::vector<QuantityOfInterest> coarse_closed_cold(const input::DoorCase& c,
                                                   const CoarseSolution& coarse)
{
  return coarse_closed_state(c, coarse, nullptr);
}

void estimate_errors(const input::DoorCase& door_case, const door::RefinementLevel& last,
                     const CoarseSolution& coarse, const CoarseQois& coarse_qois,
                     StateQuantities& states)
{
  const MeshPair pair{last, coarse.level, false};
  compare(quantities_of(door_case, coarse.open), pair, states.open.front());
  const std::size_t warm = states.open.size() - 1;
  std::vector<OnBoth> open;
  std::vector<OnBoth> closed;
  if (!states.closed.empty())
    closed.push_back({0, &coarse_qois.closed_cold, pair});
  for (const auto& state : coarse_qois.states) {
    // The steady state is the last and has no time steps, like skins as measured, which are alone.
    const MeshPair in_fire{last, coarse.level, state.replay + 1 != warm};
    open.push_back({state.replay + 1, &state.open, in_fire});
    if (!states.closed.empty())
      closed.push_back({state.replay + 1, &state.closed, in_fire});
  }
  estimate_states(open, 1, door_case.door.gasket, states.open);
  estimate_states(closed, 0, door_case.door.gasket, states.closed);
}

void estimate_errors(double drop_error, StateQuantities& states)
{
  if (!(drop_error > 0.0))
    return;
  for (auto& state : states.open)
    for (auto& q : state)
      if (q.id.quantity == qoi::Quantity::drop || q.id.quantity == qoi::Quantity::lean ||
          q.id.quantity == qoi::Quantity::elastic_sag)
        q.error = drop_error;
}

} // namespace hangtrue::verdict
