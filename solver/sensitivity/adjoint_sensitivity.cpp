// SPDX-License-Identifier: GPL-3.0-or-later
#include "solver/sensitivity/adjoint_sensitivity.hpp"

#include "meshing/sweep/door_mesher.hpp"
#include "solver/analysis/closed_result.hpp"
#include "solver/contact/contact_circles.hpp"
#include "solver/contact/gasket_model.hpp"
#include "solver/contact/skin_contact.hpp"
#include "solver/firing/critical_instant.hpp"
#include "solver/heat/door_heat_problem.hpp"
#include "solver/heat/fire_schedule.hpp"
#include "solver/heat/thermal_state.hpp"
#include "solver/qoi/corner_displacements.hpp"
#include "solver/qoi/goal_functionals.hpp"
#include "solver/sensitivity/adjoint_residual.hpp"
#include "solver/system/door_position.hpp"

#include <algorithm>
#include <cmath>
#include <memory>
#include <optional>
#include <utility>

namespace hangtrue::sensitivity
{

namespace
{

using Heats =
    std::vector<std::shared_ptr<const heat::ThermalState>>; // per state; null for a cold one

// A door with its two meshes and its heat in every state, nothing solved.
struct Shaped {
  door::Door door;
  door::Door closed_door;
  std::shared_ptr<const mesh::Mesh> open;
  std::shared_ptr<const mesh::Mesh> closed_mesh;
  Heats thermal;
};

std::shared_ptr<const heat::ThermalState>
warm_door(const door::Door& door, const fe::Discretization& space, std::vector<double> temperature)
{
  auto thermal = std::make_shared<heat::ThermalState>();
  thermal->summary = firing::temperature_summary(door, space, temperature);
  thermal->temperature = std::move(temperature);
  return thermal;
}

std::vector<double> instants_of(const std::vector<SensitivityState>& states)
{
  std::vector<double> times;
  for (const auto& s : states)
    if (heat::is_hot(s.thermal) && !heat::is_steady(s.thermal))
      times.push_back(s.thermal.time);
  std::sort(times.begin(), times.end());
  times.erase(std::unique(times.begin(), times.end()), times.end());
  return times;
}

bool any_steady(const std::vector<SensitivityState>& states)
{
  return std::any_of(states.begin(), states.end(),
                     [](const SensitivityState& s) { return heat::is_steady(s.thermal); });
}

// Temperatures in every thermal state: the warm-up until its last instant, and the steady state.
// Steps may be longer than for the quantity itself: their error is much the same before and after a
// change.
Heats heats_of(const door::Door& door, const mesh::BodyMesh& body,
               const std::vector<SensitivityState>& states)
{
  Heats result(states.size());
  const std::vector<double> times = instants_of(states);
  std::vector<std::shared_ptr<const heat::ThermalState>> at_time(times.size());
  const bool steady = any_steady(states);
  if (times.empty() && !steady)
    return result;
  const fe::Discretization space(body);
  const heat::HeatSolver solver(heat::door_heat_problem(door, space));
  if (!times.empty()) {
    constexpr double tolerance = 4.0; // K a step
    std::vector<double> breaks = times;
    for (const auto& point : door.fire.schedule)
      breaks.push_back(point.time);
    const std::vector<double> start(body.nodes.size(), door.fire.ambient);
    solver.transient(start, door.fire.schedule.front().time, times.back(), tolerance, breaks,
                     [&](double time, const heat::TemperatureField& t) {
                       for (std::size_t i = 0; i < times.size(); ++i)
                         if (std::abs(time - times[i]) < 1e-6 * (1.0 + time))
                           at_time[i] = warm_door(door, space, t.value);
                     });
  }
  std::shared_ptr<const heat::ThermalState> hot;
  if (steady) {
    const bool measured_skins = door.fire.measured.given;
    const double time = measured_skins ? 0.0 : heat::hottest_time(door.fire);
    const double guess = measured_skins ? door.fire.measured.inner : heat::gas_at(door.fire, time);
    hot = warm_door(door, space, solver.steady(time, 0.5 * (door.fire.ambient + guess)).value);
  }
  for (std::size_t s = 0; s < states.size(); ++s)
    if (heat::is_hot(states[s].thermal))
      result[s] =
          heat::is_steady(states[s].thermal)
              ? hot
              : at_time[std::lower_bound(times.begin(), times.end(), states[s].thermal.time) -
                        times.begin()];
  return result;
}

bool any_closed(const std::vector<SensitivityState>& states)
{
  return std::any_of(states.begin(), states.end(),
                     [](const SensitivityState& s) { return s.closed; });
}

void give_meshes(const door::MeshDensity& fine, bool closed, Shaped& result)
{
  result.open = std::make_shared<mesh::Mesh>(sweep::make_mesh(result.door, fine));
  if (closed)
    result.closed_mesh = std::make_shared<mesh::Mesh>(sweep::make_mesh(result.closed_door, fine));
}

Shaped unperturbed(const door::Door& door, const door::MeshDensity& fine,
                   const std::vector<SensitivityState>& states)
{
  Shaped result{door, door, nullptr, nullptr, {}};
  result.closed_door.swing = 0.0;
  give_meshes(fine, any_closed(states), result);
  result.thermal = heats_of(door, result.open->door, states);
  return result;
}

// The door with one input perturbed and the temperatures unchanged, on meshes of the same cells;
// nothing where the cells change.
std::optional<Shaped> perturbed(const Shaped& base, const UncertainInput& input, double by,
                                const door::MeshDensity& fine)
{
  Shaped result = base;
  input.apply(result.door, by);
  input.apply(result.closed_door, by);
  if (input.shapes) {
    if (!door::faults(result.door).empty())
      return std::nullopt;
    give_meshes(fine, base.closed_mesh != nullptr, result);
    if (!same_cells(*result.open, *base.open) ||
        (base.closed_mesh != nullptr && !same_cells(*result.closed_mesh, *base.closed_mesh)))
      return std::nullopt;
  }
  return result;
}

// The nominal door with the temperatures of the perturbed one, node by node.
std::optional<Shaped> reheated(const Shaped& base, const UncertainInput& input,
                               const door::MeshDensity& fine,
                               const std::vector<SensitivityState>& states)
{
  Shaped result = base;
  door::Door other = base.door;
  input.apply(other, input.thermal_step);
  if (!input.shapes) {
    result.thermal = heats_of(other, base.open->door, states);
    return result;
  }
  if (!door::faults(other).empty())
    return std::nullopt;
  const mesh::Mesh mesh = sweep::make_mesh(other, fine);
  if (!same_cells(mesh, *base.open))
    return std::nullopt;
  result.thermal = heats_of(other, mesh.door, states);
  return result;
}

// One solved quantity of interest with what is needed to evaluate it in a slightly changed door.
struct Posed {
  std::size_t state = 0;
  qoi::QoiSolution fields;
  std::optional<qoi::GoalFunctional> goal; // of an open state
  std::vector<contact::GasketPoint> line;  // of a closed state
  double drawn_height = 0.0;               // m, of its gasket
  QoiSensitivities observed;
};

double read_open(const Shaped& other, const Posed& posed)
{
  PerturbedModel model{other.door, *other.open, other.thermal[posed.state].get(),
                       system::DoorPosition::open, contact::contact_pairs(other.door, *other.open)};
  contact::add_skin_pairs(other.door, other.open->door, model.pairs);
  contact::add_intermediate_pairs(posed.fields.contact.points, model.pairs);
  return lagrangian_residual(model, posed.fields) +
         posed.goal->evaluate(other.door, *other.open,
                              posed.fields.contact.displacements[contact::door_body]);
}

// The gasket keeps the height that it has lost by permanent set.
double read_closed(const Shaped& other, const Posed& posed)
{
  std::vector<contact::GasketPoint> line = posed.line;
  for (auto& g : line)
    g.height += other.door.gasket.height - posed.drawn_height;
  analysis::ClosedPairs contacts = analysis::closed_pairs(
      other.closed_door, *other.closed_mesh, analysis::closing_setup(other.door), line);
  const PerturbedModel model{other.closed_door, *other.closed_mesh,
                             other.thermal[posed.state].get(), system::DoorPosition::closed,
                             contacts.pairs};
  const double moved = lagrangian_residual(model, posed.fields);
  const auto minimum = std::min_element(
      line.begin(), line.end(), [](const contact::GasketPoint& a, const contact::GasketPoint& b) {
        return a.squeeze < b.squeeze;
      });
  const auto point = contacts.first_gasket + static_cast<std::size_t>(minimum - line.begin());
  // Warp of the frame face is no uncertain input: it is the same before and after.
  double squeeze = minimum->height - other.door.gasket.set_gap;
  for (const auto& w : contacts.pairs[point].outer.nodes)
    squeeze -= w.weight * posed.fields.contact.displacements[contact::door_body][w.node].y;
  return moved + squeeze;
}

void pose_open(const Shaped& base, std::size_t state, const heat::ThermalStateId& thermal,
               analysis::AnalysisCache& cache, std::vector<Posed>& all)
{
  const mesh::Mesh& mesh = *base.open;
  system::DoorSystem system = system::assemble_door_system(
      base.door, mesh, [](const std::string&, double) {}, base.thermal[state].get(), cache.factors);
  contact::ContactSolver solver(system.bodies, system.modes, system.pairs);
  solver.follow_circles(system.pairs);
  const contact::ContactResult contact = solver.solve({});
  qoi::ContactStateData solved{system.pairs, {}, contact.state, {}};
  for (std::size_t b = 0; b < system.bodies.size(); ++b)
    solved.displacements.push_back(contact::body_displacements(
        system.bodies[b], static_cast<int>(b), system.modes, system.pairs, contact.state, {}));
  const elasticity::NodeField& displacements = solved.displacements[contact::door_body];
  auto pose = [&](const qoi::GoalFunctional& goal) {
    Posed posed;
    posed.state = state;
    posed.goal = goal;
    posed.fields.contact = solved;
    posed.fields.unit_load = goal.nodal_forces(base.door, mesh);
    posed.fields.adjoint =
        solver.solve_adjoint(contact.state, contact::door_body, posed.fields.unit_load);
    posed.observed.id = goal.id;
    posed.observed.whole = qoi::nodal_work(posed.fields.unit_load, displacements);
    all.push_back(std::move(posed));
  };
  // The corner that drops more, as the quantity itself takes it.
  const system::StateId id{system::DoorPosition::open, thermal};
  const auto drop = [&](std::size_t corner) {
    return qoi::drop_functional(id, corner).evaluate(base.door, mesh, displacements);
  };
  pose(qoi::drop_functional(id, qoi::lowest_corner(drop(0), drop(1))));
  if (base.thermal[state] != nullptr)
    pose(qoi::bow_functional(id));
}

void pose_closed(const Shaped& base, std::size_t state, const heat::ThermalStateId& thermal,
                 analysis::AnalysisCache& cache, std::vector<Posed>& all)
{
  analysis::ClosedDoorAnalysis closed_door(base.door, *base.closed_mesh, base.thermal[state].get(),
                                           base.door.latches, cache);
  const analysis::ClosingSetup closing = analysis::closing_setup(base.door);
  const analysis::ClosedDoorResult closed = closed_door.solve(closing, {});
  Posed posed;
  posed.state = state;
  posed.line = closed.gasket;
  posed.drawn_height = closing.gasket.height;
  posed.fields = closed_door.least_squeeze(closing, closed);
  posed.observed.id = {{system::DoorPosition::closed, thermal}, qoi::Quantity::least_squeeze};
  posed.observed.whole = posed.fields.split.whole;
  posed.observed.load_sensitivity = contact::line_load(closing.gasket, posed.observed.whole).slope;
  all.push_back(std::move(posed));
}

std::vector<Posed> pose_all(const Shaped& base, const std::vector<SensitivityState>& states,
                            const std::function<void(double)>& report)
{
  analysis::AnalysisCache cache;
  std::vector<Posed> all;
  for (std::size_t s = 0; s < states.size(); ++s) {
    if (states[s].open)
      pose_open(base, s, states[s].thermal, cache, all);
    if (states[s].closed)
      pose_closed(base, s, states[s].thermal, cache, all);
    if (report)
      report(static_cast<double>(s + 1) / static_cast<double>(states.size()));
  }
  return all;
}

double reading(const Shaped& other, const Posed& posed)
{
  return posed.goal ? read_open(other, posed) : read_closed(other, posed);
}

// Central differences where both meshes allow it, else one side and the nominal door; then the
// effect of the temperatures, by itself.
void add_slopes(const Shaped& base, const std::vector<UncertainInput>& inputs, std::size_t index,
                const door::MeshDensity& fine, const std::vector<SensitivityState>& states,
                std::vector<Posed>& all)
{
  const UncertainInput& input = inputs[index];
  const auto more = perturbed(base, input, input.step, fine);
  const auto less = perturbed(base, input, -input.step, fine);
  const double apart = (more ? input.step : 0.0) + (less ? input.step : 0.0);
  const bool heats =
      input.thermal_step > 0.0 && (any_steady(states) || !instants_of(states).empty());
  const auto hot = heats ? reheated(base, input, fine, states) : std::nullopt;
  for (auto& posed : all) {
    Sensitivity slope{index, std::nullopt};
    if (apart > 0.0 && (hot || !heats)) {
      slope.derivative =
          (reading(more ? *more : base, posed) - reading(less ? *less : base, posed)) / apart;
      if (hot && base.thermal[posed.state] != nullptr)
        *slope.derivative += (reading(*hot, posed) - reading(base, posed)) / input.thermal_step;
    }
    posed.observed.sensitivities.push_back(slope);
  }
}

} // namespace

std::vector<QoiSensitivities> adjoint_sensitivities(const door::Door& door,
                                                    const door::MeshDensity& fine,
                                                    const std::vector<SensitivityState>& states,
                                                    const std::vector<UncertainInput>& inputs,
                                                    const std::function<void(double share)>& report)
{
  const Shaped base = unperturbed(door, fine, states);
  constexpr double solving = 0.5; // fraction of the time for the states themselves
  std::vector<Posed> all = pose_all(base, states, [&](double share) {
    if (report)
      report(solving * share);
  });
  for (std::size_t i = 0; i < inputs.size(); ++i) {
    add_slopes(base, inputs, i, fine, states, all);
    if (report)
      report(solving +
             (1.0 - solving) * static_cast<double>(i + 1) / static_cast<double>(inputs.size()));
  }
  std::vector<QoiSensitivities> result;
  for (auto& posed : all)
    result.push_back(std::move(posed.observed));
  return result;
}

} // namespace hangtrue::sensitivity
