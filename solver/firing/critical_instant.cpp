#include "solver/firing/critical_instant.hpp"

#include "solver/elasticity/elastic_body.hpp"
#include "solver/fe/shape_functions.hpp"
#include "solver/heat/fire_schedule.hpp"
#include "solver/heat/frame_temperature.hpp"
#include "solver/material/steel_properties.hpp"
#include "solver/qoi/goal_functionals.hpp"
#include "solver/system/door_system.hpp"

#include <algorithm>
#include <cmath>

namespace hangtrue
{

namespace
{

ElasticityOf cold_steel(const Door& door)
{
  return elasticity_of(door, door.temperature, door.temperature);
}

// Bow of the free door at given temperatures, with the stiffness of cold steel: stiffness hardly
// affects a free bow, and so one adjoint solution serves every instant (Betti).
double free_bow(const Door& door, const BodyMesh& body, const NodeField& unit,
                const std::vector<double>& temperatures)
{
  std::vector<double> strain;
  strain.reserve(temperatures.size());
  for (const double t : temperatures)
    strain.push_back(elongation(door.steel, t));
  const NodeField heat = free_strain_forces(body, cold_steel(door), strain);
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

PartMeans part_means(const Door& door, const BodyMesh& body, const std::vector<double>& at)
{
  const auto on_edge = [&](const Hex& cell) {
    return cell.hinge < 0 && is_steel(cell) && body.nodes[cell.node[13]].x < door.rim.width;
  };
  PartMeans made;
  visit_cells(
      body,
      [&](const Hex& cell) {
        return cell.part == Part::ring || cell.part == Part::rim || on_edge(cell);
      },
      [&](const Hex& cell, const CellShape& shape) {
        double volume = 0.0;
        double sum = 0.0;
        for (int q = 0; q < 27; ++q) {
          volume += shape.volume[q];
          for (int n = 0; n < 27; ++n)
            sum += shape.volume[q] * shape.value[q][n] * at[cell.node[n]];
        }
        const double mean = sum / volume;
        if (cell.part == Part::ring)
          made.rings.add(mean, volume);
        if (cell.part == Part::rim)
          made.rim.add(mean, volume);
        if (!on_edge(cell))
          return;
        made.edge.add(mean, volume);
        if (cell.part == Part::outer_skin)
          made.over_rim.add(mean, volume);
      });
  return made;
}

} // namespace

Warmth warmth_of(const Door& door, const BodyMesh& body, const std::vector<double>& at)
{
  Warmth w;
  const SkinMeans means = skin_means(body, at);
  w.inner_skin = means.inner;
  w.outer_skin = means.outer;
  w.hand_bow = hand_bow(door, means);
  const double d = depth(door);
  const Vec3 middle{0.5 * door.panel.width, d, 0.5 * door.panel.height};
  std::vector<char> steel(body.nodes.size(), 0);
  for (const auto& cell : body.cells)
    if (is_steel(cell))
      for (const int n : cell.node)
        steel[n] = 1;
  double nearest = 1e9;
  w.hottest = at.front();
  w.outside_hottest = door.fire.ambient;
  for (std::size_t n = 0; n < at.size(); ++n) {
    if (steel[n] == 0)
      continue;
    w.hottest = std::max(w.hottest, at[n]);
    if (std::abs(body.nodes[n].y - d) > 1e-7)
      continue;
    w.outside_hottest = std::max(w.outside_hottest, at[n]);
    const double away = norm(body.nodes[n] - middle);
    if (away < nearest) {
      nearest = away;
      w.outside_middle = at[n];
    }
  }
  const PartMeans means_of = part_means(door, body, at);
  w.rim = means_of.rim.of(door.fire.ambient);
  w.hinge_edge = means_of.edge.of(door.fire.ambient);
  w.knuckles = means_of.rings.of(door.fire.ambient);
  w.jamb = door.jamb.hot.value_or(means_of.over_rim.of(door.fire.ambient));
  w.pins = 0.5 * (w.knuckles + w.jamb);
  return w;
}

WarmDoor state_at(const Door& door, const BodyMesh& body, const ThermalStateId& state,
                  std::vector<double> at, double energy_error)
{
  WarmDoor made;
  made.state = state;
  made.warmth = warmth_of(door, body, at);
  made.warmth.time = state.time;
  made.warmth.gas = door.fire.schedule.empty() ? 0.0 : gas_at(door.fire, state.time);
  made.warmth.energy_error = energy_error;
  made.at = std::move(at);
  return made;
}

namespace
{

// Sensitivity of the hottest point outside to film and frame. Earlier in the firing they have had
// less time to act: there the steady value is more than the true one.
void add_doubts(const Door& door, const BodyMesh& body, const HeatDoubts& doubts, WarmDoor& state)
{
  const double d = depth(door);
  std::size_t hottest = body.nodes.size();
  for (std::size_t n = 0; n < body.nodes.size(); ++n)
    if (std::abs(body.nodes[n].y - d) < 1e-7 &&
        (hottest == body.nodes.size() || state.at[n] > state.at[hottest]))
      hottest = n;
  state.warmth.outside_by_film = doubts.by_film[hottest];
  state.warmth.outside_by_frame = doubts.by_frame[hottest];
}

Firing as_measured(const Door& door, const BodyMesh& body)
{
  const HeatSolver solver(door_heat_problem(door, body));
  Temperatures t = solver.steady(0.0, door.fire.ambient);
  const HeatDoubts doubts = heat_doubts(door, solver, t.at);
  Firing made;
  made.states.push_back(
      state_at(door, body, {ThermalCase::measured_skins}, std::move(t.at), t.imbalance));
  made.states.back().warmth.gas = door.fire.measured.inner;
  made.states.back().warmth.frame_face = FrameFace(door).settled();
  add_doubts(door, body, doubts, made.states.back());
  return made;
}

// Steps at which the bow by hand formula is near its largest; the elastic bow decides among them.
std::size_t most_bowed(const Door& door, const BodyMesh& body, const NodeField& unit,
                       const std::vector<WarmInstant>& instants)
{
  double largest = 0.0;
  for (const auto& i : instants)
    largest = std::max(largest, std::abs(i.hand));
  double worst = -1.0;
  std::size_t at = 0;
  for (std::size_t i = 0; i < instants.size(); ++i) {
    if (std::abs(instants[i].hand) < 0.9 * largest)
      continue;
    const double here = std::abs(free_bow(door, body, unit, instants[i].at));
    if (here > worst) {
      worst = here;
      at = i;
    }
  }
  return at;
}

} // namespace

Warming warm(const Door& door, const BodyMesh& body, const std::function<void(double share)>& told)
{
  Warming made;
  if (door.fire.measured.given)
    made.measured = as_measured(door, body);
  else
    made.way = warm_up(door, body, told);
  return made;
}

Firing choose_states(const Door& door, const BodyMesh& body, Warming warming, const NodeField& unit)
{
  if (warming.measured)
    return std::move(*warming.measured);
  WarmUp& way = warming.way;
  Firing made;
  for (const auto& i : way.instants)
    made.curve.push_back({i.time, i.gas, i.means.inner, i.means.outer, i.hand});
  const double error = way.largest_imbalance;
  const WarmInstant& worst = way.instants[most_bowed(door, body, unit, way.instants)];
  made.states.push_back(
      state_at(door, body, {ThermalCase::most_bowed, worst.time}, worst.at, error));
  for (const double time : door.fire.instants)
    for (const auto& i : way.instants) // the steps end at chosen instants
      if (std::abs(i.time - time) < 1e-6 * (1.0 + time))
        made.states.push_back(state_at(door, body, {ThermalCase::instant, time}, i.at, error));
  made.states.push_back(state_at(door, body, {ThermalCase::steady, hottest_time(door.fire)},
                                 std::move(way.steady.at), way.steady.imbalance));
  made.way = std::move(way.instants);
  const FrameFace frame(door);
  for (auto& state : made.states) {
    add_doubts(door, body, way.doubts, state);
    state.warmth.frame_face = frame.at(state.warmth.time);
  }
  made.states.back().warmth.frame_face = frame.settled();
  return made;
}

Firing fire_door(const Door& door, const BodyMesh& body,
                 const std::function<void(double share)>& told)
{
  Warming warming = warm(door, body, told);
  if (warming.measured)
    return std::move(*warming.measured);
  const ElasticBody free(body, cold_steel(door), hold_lightly(body));
  return choose_states(door, body, std::move(warming), free.solve(bow_forces(door, body)));
}

} // namespace hangtrue
