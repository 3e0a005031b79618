// SPDX-License-Identifier: GPL-3.0-or-later
#include "solver/firing/critical_instant.hpp"

#include "solver/contact/gasket_model.hpp"
#include "solver/elasticity/assembly.hpp"
#include "solver/elasticity/stress.hpp"
#include "solver/fe/cell_values.hpp"
#include "solver/heat/fire_schedule.hpp"
#include "solver/heat/frame_temperature.hpp"
#include "solver/material/steel_properties.hpp"
#include "solver/qoi/goal_functionals.hpp"
#include "solver/system/door_system.hpp"

#include <deal.II/fe/fe_values.h>

#include <algorithm>
#include <cmath>

namespace hangtrue::firing
{

namespace
{

elasticity::CellElasticity cold_steel(const door::Door& door)
{
  return system::elasticity_of(door, door.temperature, door.temperature);
}

// Bow of the free door at given temperatures, with the stiffness of cold steel: stiffness hardly
// affects a free bow, and so one adjoint solution serves every instant (Betti).
double free_bow(const door::Door& door, const fe::Discretization& space,
                const elasticity::NodeField& unit, const std::vector<double>& temperatures)
{
  std::vector<double> strain;
  strain.reserve(temperatures.size());
  for (const double t : temperatures)
    strain.push_back(material::elongation(door.steel, t));
  const elasticity::NodeField heat =
      elasticity::free_strain_forces(space, cold_steel(door), strain);
  double bow = 0.0;
  for (std::size_t n = 0; n < heat.size(); ++n)
    bow += dot(unit[n], heat[n]);
  return bow;
}

// Mean over volume.
struct Mean {
  double sum = 0.0;    // K m^3
  double volume = 0.0; // m^3
  void add(double temperature, double of)
  {
    sum += of * temperature;
    volume += of;
  }
  [[nodiscard]] double of(double otherwise) const
  {
    return volume > 0.0 ? sum / volume : otherwise;
  }
};

// Mean temperatures of the parts that are reported. By volume: nodes crowd at hinges and corners.
struct PartMeans {
  Mean rings;
  Mean rim;
  Mean edge;     // panel steel over the rim's width at the hinge edge
  Mean over_rim; // outer skin there
};

PartMeans part_means(const door::Door& door, const fe::Discretization& space,
                     const std::vector<double>& temperature)
{
  const auto on_edge = [&](const mesh::Hex27& cell) {
    return cell.hinge < 0 && fe::is_steel(cell) &&
           space.body().nodes[cell.node[13]].x < door.rim.width;
  };
  PartMeans result;
  fe::visit_cells(
      space,
      [&](const mesh::Hex27& cell) {
        return cell.part == mesh::Part::ring || cell.part == mesh::Part::rim || on_edge(cell);
      },
      [&](const fe::CellValues& at) {
        const auto own = fe::values(at, temperature);
        double volume = 0.0;
        double sum = 0.0;
        for (unsigned q = 0; q < fe::quadrature_points; ++q) {
          volume += at.fe.JxW(q);
          sum += at.fe.JxW(q) * own[q];
        }
        const double mean = sum / volume;
        if (at.cell.part == mesh::Part::ring)
          result.rings.add(mean, volume);
        if (at.cell.part == mesh::Part::rim)
          result.rim.add(mean, volume);
        if (!on_edge(at.cell))
          return;
        result.edge.add(mean, volume);
        if (at.cell.part == mesh::Part::outer_skin)
          result.over_rim.add(mean, volume);
      });
  return result;
}

} // namespace

heat::TemperatureSummary temperature_summary(const door::Door& door,
                                             const fe::Discretization& space,
                                             const std::vector<double>& temperature)
{
  const mesh::BodyMesh& body = space.body();
  heat::TemperatureSummary w;
  const heat::SkinMeans means = heat::skin_means(space, temperature);
  w.inner_skin = means.inner;
  w.outer_skin = means.outer;
  w.estimated_bow = heat::estimated_bow(door, means);
  const double d = door::depth(door);
  std::vector<char> steel(body.nodes.size(), 0);
  for (const auto& cell : body.cells)
    if (fe::is_steel(cell))
      for (const int n : cell.node)
        steel[n] = 1;
  w.hottest = temperature.front();
  w.outside_hottest = door.fire.ambient;
  for (std::size_t n = 0; n < temperature.size(); ++n) {
    if (steel[n] == 0)
      continue;
    w.hottest = std::max(w.hottest, temperature[n]);
    if (std::abs(body.nodes[n].y - d) > 1e-7)
      continue;
    w.outside_hottest = std::max(w.outside_hottest, temperature[n]);
  }
  // Not at the nearest node, which is elsewhere on every mesh.
  for (const auto& at : contact::SkinFace(space, mesh::Part::outer_skin, d)
                            .at(0.5 * door.panel.width, 0.5 * door.panel.height))
    w.outside_middle += at.weight * temperature[at.node];
  const PartMeans means_of = part_means(door, space, temperature);
  w.rim = means_of.rim.of(door.fire.ambient);
  w.hinge_edge = means_of.edge.of(door.fire.ambient);
  w.knuckles = means_of.rings.of(door.fire.ambient);
  w.jamb = door.jamb.hot.value_or(means_of.over_rim.of(door.fire.ambient));
  w.pins = 0.5 * (w.knuckles + w.jamb);
  return w;
}

heat::ThermalState thermal_state_at(const door::Door& door, const fe::Discretization& space,
                                    const heat::ThermalStateId& state,
                                    std::vector<double> temperature, double energy_error)
{
  heat::ThermalState result;
  result.state = state;
  result.summary = temperature_summary(door, space, temperature);
  result.summary.time = state.time;
  result.summary.gas = door.fire.schedule.empty() ? 0.0 : heat::gas_at(door.fire, state.time);
  result.summary.energy_error = energy_error;
  result.temperature = std::move(temperature);
  return result;
}

namespace
{

// Sensitivity of the hottest point outside to film and frame. Earlier in the firing they have had
// less time to act: there the steady value is more than the true one.
void add_doubts(const door::Door& door, const mesh::BodyMesh& body,
                const heat::HeatUncertainty& doubts, heat::ThermalState& state)
{
  const double d = door::depth(door);
  std::size_t hottest = body.nodes.size();
  for (std::size_t n = 0; n < body.nodes.size(); ++n)
    if (std::abs(body.nodes[n].y - d) < 1e-7 &&
        (hottest == body.nodes.size() || state.temperature[n] > state.temperature[hottest]))
      hottest = n;
  state.summary.outside_by_film = doubts.by_film[hottest];
  state.summary.outside_by_frame = doubts.by_frame[hottest];
}

ThermalLoadCases as_measured(const door::Door& door, const mesh::BodyMesh& body)
{
  const fe::Discretization space(body);
  const heat::HeatSolver solver(heat::door_heat_problem(door, space));
  heat::TemperatureField t = solver.steady(0.0, door.fire.ambient);
  const heat::HeatUncertainty doubts = heat::heat_uncertainty(door, solver, t.value);
  ThermalLoadCases result;
  result.states.push_back(thermal_state_at(door, space, {heat::ThermalCase::measured_skins},
                                           std::move(t.value), t.imbalance));
  result.states.back().summary.gas = door.fire.measured.inner;
  result.states.back().summary.frame_face = heat::FrameFace(door).settled();
  add_doubts(door, body, doubts, result.states.back());
  return result;
}

// Steps at which the bow by hand formula is near its largest; the elastic bow decides among them.
std::size_t most_bowed(const door::Door& door, const fe::Discretization& space,
                       const elasticity::NodeField& unit,
                       const std::vector<heat::HeatingStep>& instants)
{
  double largest = 0.0;
  for (const auto& i : instants)
    largest = std::max(largest, std::abs(i.estimated_bow));
  double worst = -1.0;
  std::size_t index = 0;
  for (std::size_t i = 0; i < instants.size(); ++i) {
    if (std::abs(instants[i].estimated_bow) < 0.9 * largest)
      continue;
    const double here = std::abs(free_bow(door, space, unit, instants[i].temperature));
    if (here > worst) {
      worst = here;
      index = i;
    }
  }
  return index;
}

} // namespace

HeatingRun heat_up(const door::Door& door, const mesh::BodyMesh& body,
                   const std::function<void(double share)>& report)
{
  HeatingRun result;
  if (door.fire.measured.given)
    result.measured = as_measured(door, body);
  else
    result.history = heat::integrate_heating(door, body, report);
  return result;
}

ThermalLoadCases select_thermal_states(const door::Door& door, const mesh::BodyMesh& body,
                                       HeatingRun run, const elasticity::NodeField& unit)
{
  if (run.measured)
    return std::move(*run.measured);
  const fe::Discretization space(body);
  heat::HeatingHistory& way = run.history;
  ThermalLoadCases result;
  for (const auto& i : way.instants)
    result.curve.push_back({i.time, i.gas, i.means.inner, i.means.outer, i.estimated_bow});
  const double error = way.largest_imbalance;
  const heat::HeatingStep& worst = way.instants[most_bowed(door, space, unit, way.instants)];
  result.states.push_back(thermal_state_at(door, space, {heat::ThermalCase::most_bowed, worst.time},
                                           worst.temperature, error));
  for (const double time : door.fire.instants)
    for (const auto& i : way.instants) // the steps end at chosen instants
      if (std::abs(i.time - time) < 1e-6 * (1.0 + time))
        result.states.push_back(thermal_state_at(door, space, {heat::ThermalCase::instant, time},
                                                 i.temperature, error));
  result.states.push_back(
      thermal_state_at(door, space, {heat::ThermalCase::steady, heat::hottest_time(door.fire)},
                       std::move(way.steady.value), way.steady.imbalance));
  result.history = std::move(way.instants);
  const heat::FrameFace frame(door);
  for (auto& state : result.states) {
    add_doubts(door, body, way.uncertainty, state);
    state.summary.frame_face = frame.temperature_at(state.summary.time);
  }
  result.states.back().summary.frame_face = frame.settled();
  return result;
}

ThermalLoadCases analyse_firing(const door::Door& door, const mesh::BodyMesh& body,
                                const std::function<void(double share)>& report)
{
  HeatingRun run = heat_up(door, body, report);
  if (run.measured)
    return std::move(*run.measured);
  const elasticity::ElasticBody free(body, cold_steel(door), elasticity::isostatic_supports(body));
  return select_thermal_states(door, body, std::move(run), free.solve(qoi::bow_forces(door, body)));
}

} // namespace hangtrue::firing
