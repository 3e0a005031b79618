#include "solver/analysis/open_analysis.hpp"

#include "solver/analysis/open_readings.hpp"
#include "solver/contact/contact_solver.hpp"
#include "solver/contact/end_float.hpp"
#include "solver/error/load_offset_check.hpp"
#include "solver/strength/hinge_loads.hpp"
#include "solver/system/door_position.hpp"
#include "solver/system/door_system.hpp"
#include "solver/system/error_by_region.hpp"

#include <algorithm>
#include <memory>
#include <utility>

namespace hangtrue
{

namespace
{

Contributions in_detail(const OpenState& in, const HingeContact& contact,
                        const Displacements& moved, OpenDetail detail, KnownError* known)
{
  switch (detail) {
  case OpenDetail::answers:
    return {};
  case OpenDetail::parts:
    return drop_parts(in, contact.split, moved);
  case OpenDetail::budget:
    return contributions_of(in, contact.state, moved, known);
  }
  return {};
}

void put(WeightReadings weight, Deflection& into)
{
  into.weight = weight.weight;
  into.centre_of_gravity = weight.centre;
  into.couple = weight.couple;
}

void put(Displacements moved, Deflection& into)
{
  into.door_move = std::move(moved.door);
  into.frame_move = std::move(moved.frame);
  into.pin_moves = std::move(moved.pins);
  into.corners = std::move(moved.corners);
  into.drop = moved.drop;
  into.lean = moved.lean;
  into.set_back = moved.set_back;
}

void put(Contributions parts, Deflection& into)
{
  into.elastic_drop = parts.elastic_drop;
  into.heat_drop = parts.heat_drop;
  into.budget = std::move(parts.budget);
  into.splits = std::move(parts.splits);
}

void put(ThermalReadings thermal, Deflection& into)
{
  into.bow = thermal.bow;
  into.plates = std::move(thermal.plates.worst);
  into.plate_use = std::move(thermal.plates.of_cell);
  into.buckling = std::move(thermal.buckling);
  into.skin_play = thermal.skin_play;
  into.fits = std::move(thermal.fits);
}

void put(HingeLoads loads, Deflection& into)
{
  into.knuckles = std::move(loads.knuckles);
  into.leaves = std::move(loads.leaves);
  into.pins = std::move(loads.pins);
}

// What a state is called and how hot it is, nothing solved.
Deflection described(const Door& door, const WarmDoor* thermal)
{
  Deflection result;
  result.state.thermal = state_of(door);
  result.hinge_temperature = door.temperature;
  if (thermal != nullptr) {
    result.state.thermal = thermal->state;
    result.warm = true;
    result.warmth = thermal->warmth;
    result.hinge_temperature = std::max(thermal->warmth.knuckles, thermal->warmth.jamb);
  }
  return result;
}

HingeLoads loads_of(const OpenState& in, const ContactState& state, const Deflection& moved)
{
  return hinge_loads(in.door, in.mesh, in.assembly, state.push, moved.frame_move, moved.pin_moves);
}

HingeContact solve_with(const OpenState& in, const std::vector<FloatSetting>& floats)
{
  for (const auto& [point, gap] : thrust_gaps(in.door, floats, in.assembly.points))
    in.solver.set(point, gap, in.assembly.points[point].compliance);
  return in.solver.solve({});
}

AxialPlay axial_of(const OpenState& in, const HingeContact& contact,
                   const std::vector<FloatSetting>& floats)
{
  AxialPlay play =
      axial_play(in.door, {in.assembly.points, contact.gap, contact.state.push, floats});
  if (in.thermal != nullptr)
    add_hand(in.door, in.thermal->warmth, play);
  return play;
}

// The state as it is with other end floats: what its checks need.
std::shared_ptr<const Deflection> freed_state(const OpenState& in, const HingeContact& contact,
                                              const std::vector<FloatSetting>& floats,
                                              const Deflection& bound)
{
  auto freed = std::make_shared<Deflection>();
  freed->state = bound.state;
  freed->warm = bound.warm;
  freed->warmth = bound.warmth;
  freed->hinge_temperature = bound.hinge_temperature;
  put(WeightReadings{bound.weight, bound.centre_of_gravity, bound.couple}, *freed);
  Displacements moved = displacements_of(in, contact.state);
  put(in_detail(in, contact, moved, OpenDetail::parts, nullptr), *freed);
  put(std::move(moved), *freed);
  if (in.thermal != nullptr)
    put(thermal_readings(in, freed->door_move), *freed);
  put(loads_of(in, contact.state, *freed), *freed);
  freed->balance = equilibrium_of(in, contact.state, freed->frame_move, freed->weight);
  const Door door = with_floats(in.door, floats);
  freed->axial = axial_of({door, in.mesh, in.assembly, in.solver, in.thermal}, contact, floats);
  add_needs(door, {in.assembly.points, contact.gap, contact.state.push, floats}, freed->axial);
  freed->door_move = {};
  freed->frame_move = {};
  freed->pin_moves = {};
  freed->plate_use = {};
  return freed;
}

// Play along the pins, and with ample end float what the door needs of it. The solver is left with
// the end floats of its last solution.
void add_axial(const OpenState& in, const HingeContact& contact, OpenDetail detail,
               Deflection& made)
{
  const auto& points = in.assembly.points;
  const auto drawn = floats_of(in.door);
  made.axial = axial_of(in, contact, drawn);
  const AxialSolution found{points, contact.gap, contact.state.push, drawn};
  const auto ample = ample_floats(in.door);
  const auto one = one_carries(in.door);
  HingeContact free = contact;
  if (rests_as_drawn(in.door, found)) {
    add_needs(in.door, found, made.axial);
  } else {
    free = solve_with(in, ample);
    add_needs(in.door, {points, free.gap, free.state.push, ample}, made.axial);
  }
  // The weight that several hinges carry as drawn is on one in the remedy, in states with enough
  // end float.
  if (detail != OpenDetail::budget || (one == ample && !short_of_float(made.axial)))
    return;
  if (one != ample)
    free = solve_with(in, one);
  made.freed = freed_state(in, free, one, made);
}

} // namespace

Deflection solve_open_door(const OpenAnalysisInput& input)
{
  const Door& door = input.door;
  const Mesh& mesh = input.mesh;
  const WarmDoor* thermal = input.thermal;
  AnalysisCache own;
  AnalysisCache& cache = input.cache != nullptr ? *input.cache : own;
  const Progress tell = input.progress ? input.progress : [](const std::string&, double) {};
  const auto hang = cache.take_system(door, mesh, Standing::open, thermal);
  Assembly assembly = assemble(door, mesh, tell, thermal, cache.factors, hang.get());
  tell("contact at the hinges", 0.6);
  ContactSolver solver(assembly.bodies, assembly.modes, assembly.points, input.warm_start,
                       hang ? &hang->columns : nullptr);
  solver.follow_circles(assembly.points);
  const HingeContact contact = solver.solve(
      [&](int round, int) { tell("contact at the hinges", std::min(0.9, 0.6 + 0.03 * round)); });
  tell("movements and forces", 0.92);
  const OpenState in{door, mesh, assembly, solver, thermal};
  Deflection result = described(door, thermal);
  put(weight_readings(door, mesh, assembly.weight[door_body]), result);
  Displacements moved = displacements_of(in, contact.state);
  put(in_detail(in, contact, moved, input.detail, hang ? &hang->error : nullptr), result);
  put(std::move(moved), result);
  if (thermal != nullptr)
    put(thermal_readings(in, result.door_move), result);
  result.touches = solver.touches();
  if (input.detail == OpenDetail::budget && door.hanging != Hanging::side) {
    tell("a lid's load, a hair to either side", 0.94);
    result.poise = poise_of(door, mesh, assembly, result.touches);
  }
  put(loads_of(in, contact.state, result), result);
  result.balance = equilibrium_of(in, contact.state, result.frame_move, result.weight);
  add_axial(in, contact, input.detail, result);
  result.contacts = static_cast<int>(contact.state.carrying.size());
  for (const auto& elastic : assembly.elastic)
    result.unknowns += elastic->unknowns();
  cache.put_system(hang);
  if (thermal != nullptr && !can_shut(door)) // it would be shut on the same
    cache.release(*assembly.elastic[door_body]);
  tell("done", 1.0);
  return result;
}

} // namespace hangtrue
