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

namespace hangtrue
{

namespace
{

using Heats = std::vector<std::shared_ptr<const WarmDoor>>; // per state; null for a cold one

// A door with its two meshes and its heat in every state, nothing solved.
struct Shaped {
  Door door;
  Door shut_door;
  std::shared_ptr<const Mesh> open;
  std::shared_ptr<const Mesh> shut;
  Heats warm;
};

std::shared_ptr<const WarmDoor> warm_door(const Door& door, const BodyMesh& body,
                                          std::vector<double> at)
{
  auto warm = std::make_shared<WarmDoor>();
  warm->warmth = warmth_of(door, body, at);
  warm->at = std::move(at);
  return warm;
}

std::vector<double> instants_of(const std::vector<SensitivityState>& states)
{
  std::vector<double> times;
  for (const auto& s : states)
    if (is_hot(s.thermal) && !is_steady(s.thermal))
      times.push_back(s.thermal.time);
  std::sort(times.begin(), times.end());
  times.erase(std::unique(times.begin(), times.end()), times.end());
  return times;
}

bool any_steady(const std::vector<SensitivityState>& states)
{
  return std::any_of(states.begin(), states.end(),
                     [](const SensitivityState& s) { return is_steady(s.thermal); });
}

// Temperatures in every thermal state: the warm-up until its last instant, and the steady state.
// Steps may be longer than for the quantity itself: their error is much the same before and after a
// change.
Heats heats_of(const Door& door, const BodyMesh& body, const std::vector<SensitivityState>& states)
{
  Heats made(states.size());
  const std::vector<double> times = instants_of(states);
  std::vector<std::shared_ptr<const WarmDoor>> at_time(times.size());
  const bool steady = any_steady(states);
  if (times.empty() && !steady)
    return made;
  const HeatSolver solver(door_heat_problem(door, body));
  if (!times.empty()) {
    constexpr double tolerance = 4.0; // K a step
    std::vector<double> breaks = times;
    for (const auto& point : door.fire.schedule)
      breaks.push_back(point.time);
    const std::vector<double> start(body.nodes.size(), door.fire.ambient);
    solver.transient(start, door.fire.schedule.front().time, times.back(), tolerance, breaks,
                     [&](double time, const Temperatures& t) {
                       for (std::size_t i = 0; i < times.size(); ++i)
                         if (std::abs(time - times[i]) < 1e-6 * (1.0 + time))
                           at_time[i] = warm_door(door, body, t.at);
                     });
  }
  std::shared_ptr<const WarmDoor> hot;
  if (steady) {
    const bool measured_skins = door.fire.measured.given;
    const double time = measured_skins ? 0.0 : hottest_time(door.fire);
    const double guess = measured_skins ? door.fire.measured.inner : gas_at(door.fire, time);
    hot = warm_door(door, body, solver.steady(time, 0.5 * (door.fire.ambient + guess)).at);
  }
  for (std::size_t s = 0; s < states.size(); ++s)
    if (is_hot(states[s].thermal))
      made[s] = is_steady(states[s].thermal)
                    ? hot
                    : at_time[std::lower_bound(times.begin(), times.end(), states[s].thermal.time) -
                              times.begin()];
  return made;
}

bool any_closed(const std::vector<SensitivityState>& states)
{
  return std::any_of(states.begin(), states.end(),
                     [](const SensitivityState& s) { return s.closed; });
}

void give_meshes(const Fineness& fine, bool closed, Shaped& made)
{
  made.open = std::make_shared<Mesh>(loft(made.door, fine));
  if (closed)
    made.shut = std::make_shared<Mesh>(loft(made.shut_door, fine));
}

Shaped as_drawn(const Door& door, const Fineness& fine, const std::vector<SensitivityState>& states)
{
  Shaped made{door, door, nullptr, nullptr, {}};
  made.shut_door.swing = 0.0;
  give_meshes(fine, any_closed(states), made);
  made.warm = heats_of(door, made.open->door, states);
  return made;
}

// The door with one input perturbed and the temperatures unchanged, on meshes of the same cells;
// nothing where the cells change.
std::optional<Shaped> nudged(const Shaped& base, const Nudge& nudge, double by,
                             const Fineness& fine)
{
  Shaped made = base;
  nudge.apply(made.door, by);
  nudge.apply(made.shut_door, by);
  if (nudge.shapes) {
    if (!faults(made.door).empty())
      return std::nullopt;
    give_meshes(fine, base.shut != nullptr, made);
    if (!same_cells(*made.open, *base.open) ||
        (base.shut != nullptr && !same_cells(*made.shut, *base.shut)))
      return std::nullopt;
  }
  return made;
}

// The nominal door with the temperatures of the perturbed one, node by node.
std::optional<Shaped> reheated(const Shaped& base, const Nudge& nudge, const Fineness& fine,
                               const std::vector<SensitivityState>& states)
{
  Shaped made = base;
  Door other = base.door;
  nudge.apply(other, nudge.heat_step);
  if (!nudge.shapes) {
    made.warm = heats_of(other, base.open->door, states);
    return made;
  }
  if (!faults(other).empty())
    return std::nullopt;
  const Mesh mesh = loft(other, fine);
  if (!same_cells(mesh, *base.open))
    return std::nullopt;
  made.warm = heats_of(other, mesh.door, states);
  return made;
}

// One solved quantity of interest with what is needed to evaluate it in a slightly changed door.
struct Posed {
  std::size_t state = 0;
  SolvedAnswer fields;
  std::optional<GoalFunctional> goal; // of an open state
  std::vector<GasketAt> line;         // of a closed state
  double drawn_height = 0.0;          // m, of its gasket
  QoiSensitivities told;
};

double read_open(const Shaped& other, const Posed& posed)
{
  Setting setting{other.door, *other.open, other.warm[posed.state].get(), Standing::open,
                  contact_points(other.door, *other.open)};
  add_skin_points(other.door, other.open->door, setting.points);
  add_pairs_between(posed.fields.solved.points, setting.points);
  return virtual_work(setting, posed.fields) +
         posed.goal->evaluate(other.door, *other.open, posed.fields.solved.moves[door_body]);
}

// The gasket keeps the height that it has lost by permanent set.
double read_closed(const Shaped& other, const Posed& posed)
{
  std::vector<GasketAt> line = posed.line;
  for (auto& g : line)
    g.height += other.door.gasket.height - posed.drawn_height;
  ShutContacts contacts = shut_contacts(other.shut_door, *other.shut, closing_of(other.door), line);
  const Setting setting{other.shut_door, *other.shut, other.warm[posed.state].get(), Standing::shut,
                        contacts.points};
  const double moved = virtual_work(setting, posed.fields);
  const auto least =
      std::min_element(line.begin(), line.end(),
                       [](const GasketAt& a, const GasketAt& b) { return a.squeeze < b.squeeze; });
  const auto point = contacts.first_gasket + static_cast<std::size_t>(least - line.begin());
  // Warp of the frame face is no uncertain input: it is the same before and after.
  double squeeze = least->height - other.door.gasket.set_gap;
  for (const auto& w : contacts.points[point].outer.nodes)
    squeeze -= w.weight * posed.fields.solved.moves[door_body][w.node].y;
  return moved + squeeze;
}

void pose_open(const Shaped& base, std::size_t state, const ThermalStateId& thermal,
               AnalysisCache& kept, std::vector<Posed>& all)
{
  const Mesh& mesh = *base.open;
  Assembly assembly = assemble(
      base.door, mesh, [](const std::string&, double) {}, base.warm[state].get(), kept.factors);
  ContactSolver solver(assembly.bodies, assembly.modes, assembly.points);
  solver.follow_circles(assembly.points);
  const HingeContact contact = solver.solve({});
  SolvedContact solved{assembly.points, {}, contact.state, {}};
  for (std::size_t b = 0; b < assembly.bodies.size(); ++b)
    solved.moves.push_back(body_moves(assembly.bodies[b], static_cast<int>(b), assembly.modes,
                                      assembly.points, contact.state, {}));
  const NodeField& moves = solved.moves[door_body];
  auto pose = [&](const GoalFunctional& goal) {
    Posed posed;
    posed.state = state;
    posed.goal = goal;
    posed.fields.solved = solved;
    posed.fields.unit = goal.nodal_forces(base.door, mesh);
    posed.fields.adjoint = solver.answer_to(contact.state, door_body, posed.fields.unit);
    posed.told.id = goal.id;
    posed.told.whole = work_of(posed.fields.unit, moves);
    all.push_back(std::move(posed));
  };
  // The corner that drops more, as the quantity itself takes it.
  const StateId id{Standing::open, thermal};
  const auto drop = [&](std::size_t corner) {
    return drop_functional(id, corner).evaluate(base.door, mesh, moves);
  };
  pose(drop_functional(id, most_dropped_corner(drop(0), drop(1))));
  if (base.warm[state] != nullptr)
    pose(bow_functional(id));
}

void pose_closed(const Shaped& base, std::size_t state, const ThermalStateId& thermal,
                 AnalysisCache& kept, std::vector<Posed>& all)
{
  ShutDoor shut(base.door, *base.shut, base.warm[state].get(), base.door.latches, kept);
  const Closing closing = closing_of(base.door);
  const ClosedDoor closed = shut.close(closing, {});
  Posed posed;
  posed.state = state;
  posed.line = closed.gasket;
  posed.drawn_height = closing.gasket.height;
  posed.fields = shut.least_squeeze(closing, closed);
  posed.told.id = {{Standing::shut, thermal}, Quantity::least_squeeze};
  posed.told.whole = posed.fields.split.whole;
  posed.told.load_slope = line_load(closing.gasket, posed.told.whole).slope;
  all.push_back(std::move(posed));
}

std::vector<Posed> pose_all(const Shaped& base, const std::vector<SensitivityState>& states,
                            const std::function<void(double)>& told)
{
  AnalysisCache kept;
  std::vector<Posed> all;
  for (std::size_t s = 0; s < states.size(); ++s) {
    if (states[s].open)
      pose_open(base, s, states[s].thermal, kept, all);
    if (states[s].closed)
      pose_closed(base, s, states[s].thermal, kept, all);
    if (told)
      told(static_cast<double>(s + 1) / static_cast<double>(states.size()));
  }
  return all;
}

double reading(const Shaped& other, const Posed& posed)
{
  return posed.goal ? read_open(other, posed) : read_closed(other, posed);
}

// Central differences where both meshes allow it, else one side and the nominal door; then the
// effect of the temperatures, by itself.
void add_slopes(const Shaped& base, const std::vector<Nudge>& nudges, std::size_t index,
                const Fineness& fine, const std::vector<SensitivityState>& states,
                std::vector<Posed>& all)
{
  const Nudge& nudge = nudges[index];
  const auto more = nudged(base, nudge, nudge.step, fine);
  const auto less = nudged(base, nudge, -nudge.step, fine);
  const double apart = (more ? nudge.step : 0.0) + (less ? nudge.step : 0.0);
  const bool heats = nudge.heat_step > 0.0 && (any_steady(states) || !instants_of(states).empty());
  const auto hot = heats ? reheated(base, nudge, fine, states) : std::nullopt;
  for (auto& posed : all) {
    Slope slope{index, std::nullopt};
    if (apart > 0.0 && (hot || !heats)) {
      slope.value =
          (reading(more ? *more : base, posed) - reading(less ? *less : base, posed)) / apart;
      if (hot && base.warm[posed.state] != nullptr)
        *slope.value += (reading(*hot, posed) - reading(base, posed)) / nudge.heat_step;
    }
    posed.told.slopes.push_back(slope);
  }
}

} // namespace

std::vector<QoiSensitivities> adjoint_sensitivities(const Door& door, const Fineness& fine,
                                                    const std::vector<SensitivityState>& states,
                                                    const std::vector<Nudge>& nudges,
                                                    const std::function<void(double share)>& told)
{
  const Shaped base = as_drawn(door, fine, states);
  constexpr double solving = 0.5; // fraction of the time for the states themselves
  std::vector<Posed> all = pose_all(base, states, [&](double share) {
    if (told)
      told(solving * share);
  });
  for (std::size_t i = 0; i < nudges.size(); ++i) {
    add_slopes(base, nudges, i, fine, states, all);
    if (told)
      told(solving +
           (1.0 - solving) * static_cast<double>(i + 1) / static_cast<double>(nudges.size()));
  }
  std::vector<QoiSensitivities> made;
  for (auto& posed : all)
    made.push_back(std::move(posed.told));
  return made;
}

} // namespace hangtrue
